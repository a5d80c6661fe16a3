package draw

import (
	"bufio"
	"encoding/base64"
	"fmt"
	"html"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"wallshoal/wall/plane"
)

// A ScreenSVG is a canvas that writes one page as an SVG picture for a screen, in few bytes: on nothing, so
// that pictures can lie over one another; in units of the page, of which places keep a tenth; with what
// marks that follow on one another share said once; and without the names of groups.
type ScreenSVG struct {
	keeper
	about About
	out   *bufio.Writer
	buf   []byte
	look  any      // of the marks that are being written: a lineLook, a Paint or a textLook; nil for none
	lines []byte   // path data of lines of that look that are not written yet
	pen   [2]int64 // where the last of the path data came to, in tenths
	begun bool     // the path data have a first point
	clips int
	nears int
}

// A lineLook is how lines and open shapes look, and a textLook what texts share.
type lineLook struct{ Stroke }

type textLook struct {
	em     float64
	bold   bool
	align  Align
	colour Colour
}

// NewScreenSVG returns a canvas that writes to out. Close must follow the last mark.
func NewScreenSVG(out io.Writer, about About) *ScreenSVG {
	return &ScreenSVG{about: about, out: bufio.NewWriter(out)}
}

// Page implements Canvas. A picture takes one page; a second is a fault. Width and height are those of
// the viewBox without a unit, so that whoever shows the picture may give it any width.
func (s *ScreenSVG) Page(width, height float64) {
	if s.paged {
		s.fail("an SVG document has one page only")
	}
	if !s.turn(width, height) {
		return
	}
	w, h := string(tenths(nil, tenth(width))), string(tenths(nil, tenth(height)))
	fmt.Fprintf(s.out, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" width="%s" height="%s" stroke-linejoin="round" fill-rule="evenodd" font-family="%s">`,
		w, h, w, h, fontFamily)
	fmt.Fprintf(s.out, "<title>%s</title>\n", html.EscapeString(s.clean(joined(s.about.Title, s.about.Subject))))
}

// Line implements Canvas.
func (s *ScreenSVG) Line(a, b plane.Point, k Stroke) {
	if s.ready(a.X, a.Y, b.X, b.Y, k.Width) && k.Width > 0 {
		s.turnTo(lineLook{k})
		s.lines = s.path(s.lines, []plane.Point{a, b}, false)
	}
}

// Polyline implements Canvas.
func (s *ScreenSVG) Polyline(points []plane.Point, k Stroke) {
	if s.readyAt(points, k.Width) && len(points) > 1 && k.Width > 0 {
		s.turnTo(lineLook{k})
		s.lines = s.path(s.lines, points, false)
	}
}

// Polygon implements Canvas.
func (s *ScreenSVG) Polygon(rings []plane.Ring, p Paint) {
	whole, ok := s.shapes(rings)
	if !ok || !s.ready(p.Stroke.Width) || len(whole) == 0 {
		return
	}
	if !p.Fill.On {
		if p.Stroke.Width > 0 {
			s.turnTo(lineLook{p.Stroke})
			for _, r := range whole {
				s.lines = s.path(s.lines, r, true)
			}
		}
		return
	}
	s.turnTo(p)
	s.buf, s.begun = append(s.buf[:0], `<path d="`...), false
	for _, r := range whole {
		s.buf = s.path(s.buf, r, true)
	}
	s.buf = append(s.buf, `"/>`...)
	s.write()
}

// Circle implements Canvas.
func (s *ScreenSVG) Circle(c plane.Point, r float64, p Paint) {
	if !s.ready(c.X, c.Y, r, p.Stroke.Width) || r <= 0 {
		return
	}
	s.turnTo(p)
	s.buf = append(s.buf[:0], `<circle cx="`...)
	s.buf = tenths(s.buf, tenth(c.X))
	s.buf = append(s.buf, `" cy="`...)
	s.buf = tenths(s.buf, tenth(c.Y))
	s.buf = append(s.buf, `" r="`...)
	s.buf = fine(s.buf, r)
	s.buf = append(s.buf, `"/>`...)
	s.write()
}

// Text implements Canvas. A line of more than a few characters is stretched or squeezed to the width it
// was measured at.
func (s *ScreenSVG) Text(t Text) {
	const few = 4
	if !s.ready(t.At.X, t.At.Y, t.Height, t.Turn) || t.Height <= 0 {
		return
	}
	clean := s.clean(t.Say)
	if strings.TrimSpace(clean) == "" {
		return
	}
	s.turnTo(textLook{t.em(), t.Bold, t.Align, t.Colour})
	s.buf = append(s.buf[:0], `<text x="`...)
	s.buf = tenths(s.buf, tenth(t.At.X))
	s.buf = append(s.buf, `" y="`...)
	s.buf = tenths(s.buf, tenth(t.At.Y))
	s.buf = append(s.buf, '"')
	if utf8.RuneCountInString(clean) > few {
		s.buf = append(s.buf, ` textLength="`...)
		s.buf = tenths(s.buf, tenth(t.width(clean)))
		s.buf = append(s.buf, `" lengthAdjust="spacingAndGlyphs"`...)
	}
	if t.Turn != 0 {
		s.buf = fmt.Appendf(s.buf, ` transform="rotate(%s %s %s)"`, fine(nil, -t.Turn*180/math.Pi), tenths(nil, tenth(t.At.X)), tenths(nil, tenth(t.At.Y)))
	}
	s.buf = append(s.buf, '>')
	s.buf = append(s.buf, html.EscapeString(clean)...)
	s.buf = append(s.buf, `</text>`...)
	s.write()
}

// Image implements Canvas. The picture is part of the document.
func (s *ScreenSVG) Image(area plane.Rect, data []byte) {
	if s.readyImage(area, data) {
		s.turnTo(nil)
		fmt.Fprintf(s.out, `<image x="%s" y="%s" width="%s" height="%s" preserveAspectRatio="none" href="data:image/jpeg;base64,%s"/>`,
			tenths(nil, tenth(area.Min.X)), tenths(nil, tenth(area.Min.Y)), tenths(nil, tenth(area.Width())), tenths(nil, tenth(area.Height())), base64.StdEncoding.EncodeToString(data))
	}
}

// Group implements Canvas: only that it ends is seen to.
func (s *ScreenSVG) Group(string) { s.enter("group") }

// End implements Canvas.
func (s *ScreenSVG) End() { s.leave("group") }

// Clip implements Canvas.
func (s *ScreenSVG) Clip(rings ...plane.Ring) {
	whole, ok := s.shapes(rings)
	if !ok || !s.enter("clip") {
		return
	}
	s.turnTo(nil)
	s.clips++
	s.buf = fmt.Appendf(s.buf[:0], `<clipPath id="c%d"><path clip-rule="evenodd" d="`, s.clips)
	s.begun = false
	for _, r := range whole {
		s.buf = s.path(s.buf, r, true)
	}
	s.buf = fmt.Appendf(s.buf, `"/></clipPath><g clip-path="url(#c%d)">`, s.clips)
	s.write()
}

// Unclip implements Canvas.
func (s *ScreenSVG) Unclip() {
	if s.leave("clip") {
		s.turnTo(nil)
		s.out.WriteString("</g>\n")
	}
}

// Near implements Zoomed: within an image, widths are those of the image (Media Queries Level 4, 4.1, and SVG Integration,
// 3.2; from memory).
func (s *ScreenSVG) Near(pixels float64) {
	if !s.ready(pixels) || !s.enter("near") {
		return
	}
	s.turnTo(nil)
	s.nears++
	fmt.Fprintf(s.out, `<style>@media not all and (min-width:%.0fpx){.n%d{display:none}}</style><g class="n%d">`, math.Ceil(pixels), s.nears, s.nears)
}

// EndNear implements Zoomed.
func (s *ScreenSVG) EndNear() {
	if s.leave("near") {
		s.turnTo(nil)
		s.out.WriteString("</g>\n")
	}
}

// Close ends the document and returns the first fault of the picture or of the writer.
func (s *ScreenSVG) Close() error {
	s.close()
	if s.fault != nil {
		return fmt.Errorf("drawing SVG: %w", s.fault)
	}
	s.turnTo(nil)
	s.out.WriteString("</svg>\n")
	if err := s.out.Flush(); err != nil {
		return fmt.Errorf("writing SVG: %w", err)
	}
	return nil
}

// turnTo ends the marks of another look, and begins those of this one.
func (s *ScreenSVG) turnTo(look any) {
	if s.look == look {
		return
	}
	switch was := s.look.(type) {
	case nil:
	case lineLook:
		s.out.WriteString(`<path d="`)
		s.out.Write(s.lines)
		fmt.Fprintf(s.out, `" fill="none"%s/>`+"\n", edge(was.Stroke))
	default:
		s.out.WriteString("</g>\n")
	}
	s.look, s.lines, s.begun = look, s.lines[:0], false
	switch now := look.(type) {
	case Paint:
		fill := "none"
		if now.Fill.On {
			fill = now.Fill.Colour.hex()
		}
		fmt.Fprintf(s.out, `<g fill="%s"%s>`, fill, edge(now.Stroke))
	case textLook:
		fmt.Fprintf(s.out, `<g font-size="%s" fill="%s"`, fine(nil, now.em), now.colour.hex())
		if now.bold {
			s.out.WriteString(` font-weight="bold"`)
		}
		switch now.align {
		case Centre:
			s.out.WriteString(` text-anchor="middle"`)
		case Right:
			s.out.WriteString(` text-anchor="end"`)
		}
		s.out.WriteString(">")
	}
}

// edge returns the attributes of a stroke; none for one that draws nothing.
func edge(k Stroke) string {
	if k.Width <= 0 {
		return ""
	}
	out := fmt.Sprintf(` stroke="%s" stroke-width="%s"`, k.Colour.hex(), fine(nil, k.Width))
	if pattern := k.Dash.Pattern(k.Width); pattern != nil {
		lengths := make([]string, len(pattern))
		for i, l := range pattern {
			lengths[i] = string(fine(nil, l))
		}
		out += fmt.Sprintf(` stroke-dasharray="%s"`, strings.Join(lengths, " "))
	}
	return out
}

func (s *ScreenSVG) write() { s.out.Write(s.buf) }

// path adds a line through the points to path data, closed to a ring where asked: the first point as it
// is where the data are new, each other as its step from the one before.
func (s *ScreenSVG) path(to []byte, points []plane.Point, ring bool) []byte {
	var first [2]int64
	letter := byte('M')
	for i, p := range points {
		at := [2]int64{tenth(p.X), tenth(p.Y)}
		dx, dy := at[0]-s.pen[0], at[1]-s.pen[1]
		switch {
		case i == 0 && !s.begun:
			to, letter = pair(append(to, 'M'), at[0], at[1]), 'l'
		case i == 0:
			to, letter = pair(append(to, 'm'), dx, dy), ' ' // what follows is a line, without its letter
		case dx == 0 && dy == 0 && (letter == 0 || i < len(points)-1):
			continue
		case letter == 'l':
			to, letter = pair(append(to, 'l'), dx, dy), 0
		case dx >= 0:
			to, letter = pair(append(to, ' '), dx, dy), 0
		default:
			to, letter = pair(to, dx, dy), 0
		}
		if i == 0 {
			first = at
		}
		s.pen, s.begun = at, true
	}
	if ring {
		to, s.pen = append(to, 'z'), first
	}
	return to
}

// pair writes two numbers given in tenths.
func pair(to []byte, x, y int64) []byte {
	to = tenths(to, x)
	if y >= 0 {
		to = append(to, ' ')
	}
	return tenths(to, y)
}

// tenth returns mm as a whole number of tenths.
func tenth(mm float64) int64 { return int64(math.Round(mm * 10)) }

// tenths writes a number given in tenths.
func tenths(to []byte, n int64) []byte {
	if n < 0 {
		to, n = append(to, '-'), -n
	}
	to = strconv.AppendInt(to, n/10, 10)
	if n%10 != 0 {
		to = append(to, '.', byte('0'+n%10))
	}
	return to
}

// fine writes a number rounded to a hundredth.
func fine(to []byte, v float64) []byte {
	return strconv.AppendFloat(to, math.Round(v*100)/100, 'f', -1, 64)
}
