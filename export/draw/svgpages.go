package draw

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
)

// SVGPages is a canvas that writes a document of several pages as SVG documents, one a page.
type SVGPages struct {
	Canvas   // of the page that is being drawn, which is page
	page     *SVG
	about    About
	pages    []*bytes.Buffer
	fault    error // of a page before
	warnings []string
}

// NewSVGPages returns a canvas without a page. Every page is said to be about what about says, and its
// number is added to the subject. Documents must follow the last mark.
func NewSVGPages(about About) *SVGPages {
	s := &SVGPages{about: about}
	s.begin(io.Discard, about) // what is drawn before the first page is a fault, which this one keeps
	return s
}

// Page implements Canvas: it ends the document before, and starts another.
func (s *SVGPages) Page(width, height float64) {
	s.end()
	page := new(bytes.Buffer)
	s.pages = append(s.pages, page)
	about := s.about
	about.Subject = joined(about.Subject, fmt.Sprintf("page %d", len(s.pages)))
	s.begin(page, about)
	s.page.Page(width, height)
}

func (s *SVGPages) begin(out io.Writer, about About) {
	s.page = NewSVG(out, about)
	s.Canvas = s.page
}

// end ends the document of the page that is being drawn.
func (s *SVGPages) end() {
	for _, w := range s.page.Warnings() {
		if !slices.Contains(s.warnings, w) {
			s.warnings = append(s.warnings, w)
		}
	}
	if len(s.pages) == 0 && s.page.fault == nil {
		return
	}
	if err := s.page.Close(); err != nil && s.fault == nil {
		s.fault = fmt.Errorf("page %d: %w", len(s.pages), err)
	}
}

// Documents ends the last page and returns the documents, in the order of the pages, and the first fault
// of the picture. It is called once.
func (s *SVGPages) Documents() ([][]byte, error) {
	s.end()
	if s.fault == nil && len(s.pages) == 0 {
		s.fault = errors.New("a document without a page")
	}
	if s.fault != nil {
		return nil, s.fault
	}
	out := make([][]byte, len(s.pages))
	for i, p := range s.pages {
		out[i] = p.Bytes()
	}
	return out, nil
}

// Warnings returns one line for each character that printed as a box, each once. It is complete once
// Documents was called.
func (s *SVGPages) Warnings() []string { return slices.Clone(s.warnings) }
