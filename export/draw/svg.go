package draw

import (
	"bufio"
	"encoding/base64"
	"fmt"
	"html"
	"io"
	"math"
	"slices"
	"strings"

	svg "github.com/ajstarks/svgo/float"

	"wallshoal/wall/plane"
)

// fontFamily names the fonts for a screen: the one that the text was measured in, then any plain one.
const fontFamily = "Go, 'Noto Sans', 'Segoe UI', Helvetica, Arial, sans-serif"

// places is how many decimals of a millimetre an SVG file keeps.
const places = 3

// An SVG is a canvas that writes one page as an SVG document, with width and height in mm and a
// viewBox of the same numbers.
type SVG struct {
	keeper
	about About
	out   *bufio.Writer
	svg   *svg.SVG
	clips int
	ids   string // before every id
	part  bool   // of a page of HTML
}

// NewSVG returns a canvas that writes to out. Close must follow the last mark.
func NewSVG(out io.Writer, about About) *SVG {
	// A bufio.Writer keeps the first error of the writer under it, which svgo would drop.
	buffered := bufio.NewWriter(out)
	pen := svg.New(buffered)
	pen.Decimals = places
	return &SVG{about: about, out: buffered, svg: pen}
}

// NewInlineSVG returns a canvas that writes an element for a page of HTML, as wide as there is room for.
// Its ids begin with ids, which may hold letters and digits alone and is to be another for each element
// of a page, for these share one space of names.
func NewInlineSVG(out io.Writer, about About, ids string) *SVG {
	s := NewSVG(out, about)
	s.ids, s.part = ids, true
	return s
}

// Page implements Canvas. A document takes one page; a second is a fault.
func (s *SVG) Page(width, height float64) {
	if s.paged {
		s.fail("an SVG document has one page only")
	}
	if !s.turn(width, height) {
		return
	}
	if s.part {
		fmt.Fprintf(s.svg.Writer, `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 %.*f %.*f" role="img" aria-label="%s" font-family="%s">`+"\n",
			places, width, places, height, html.EscapeString(s.clean(joined(s.about.Title, s.about.Subject))), fontFamily)
		s.svg.Rect(0, 0, width, height, `fill="#ffffff"`)
		return
	}
	s.svg.Startunit(width, height, "mm",
		fmt.Sprintf(`viewBox="0 0 %.*f %.*f"`, places, width, places, height),
		fmt.Sprintf(`font-family="%s"`, fontFamily))
	s.svg.Title(s.clean(s.about.Title))
	if s.about.Subject != "" {
		s.svg.Desc(s.clean(s.about.Subject))
	}
	s.svg.Rect(0, 0, width, height, `fill="#ffffff"`)
}

// Line implements Canvas.
func (s *SVG) Line(a, b plane.Point, k Stroke) {
	if s.ready(a.X, a.Y, b.X, b.Y, k.Width) && k.Width > 0 {
		s.svg.Line(a.X, a.Y, b.X, b.Y, strokeAttributes(k))
	}
}

// Polyline implements Canvas.
func (s *SVG) Polyline(points []plane.Point, k Stroke) {
	if !s.readyAt(points, k.Width) || len(points) < 2 || k.Width <= 0 {
		return
	}
	xs, ys := make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		xs[i], ys[i] = p.X, p.Y
	}
	s.svg.Polyline(xs, ys, `fill="none"`, strokeAttributes(k))
}

// Polygon implements Canvas.
func (s *SVG) Polygon(rings []plane.Ring, p Paint) {
	whole, ok := s.shapes(rings)
	if ok && s.ready(p.Stroke.Width) && len(whole) > 0 {
		s.svg.Path(pathData(whole), `fill-rule="evenodd"`, paintAttributes(p))
	}
}

// Circle implements Canvas.
func (s *SVG) Circle(c plane.Point, r float64, p Paint) {
	if s.ready(c.X, c.Y, r, p.Stroke.Width) && r > 0 {
		s.svg.Circle(c.X, c.Y, r, paintAttributes(p))
	}
}

// Text implements Canvas. The line is stretched or squeezed to the width it was measured at, so
// that another font cannot make it run over its neighbours.
func (s *SVG) Text(t Text) {
	if !s.ready(t.At.X, t.At.Y, t.Height, t.Turn) || t.Height <= 0 {
		return
	}
	clean := s.clean(t.Say)
	if strings.TrimSpace(clean) == "" {
		return
	}
	attributes := []string{
		fmt.Sprintf(`font-size="%.*f"`, places, t.em()),
		fmt.Sprintf(`textLength="%.*f"`, places, t.width(clean)),
		`lengthAdjust="spacingAndGlyphs"`,
		fmt.Sprintf(`fill="%s"`, t.Colour.hex()),
		`xml:space="preserve"`,
	}
	switch t.Align {
	case Centre:
		attributes = append(attributes, `text-anchor="middle"`)
	case Right:
		attributes = append(attributes, `text-anchor="end"`)
	}
	if t.Bold {
		attributes = append(attributes, `font-weight="bold"`)
	}
	if t.Turn != 0 {
		attributes = append(attributes, fmt.Sprintf(`transform="rotate(%.4f %.*f %.*f)"`,
			-t.Turn*180/math.Pi, places, t.At.X, places, t.At.Y))
	}
	s.svg.Text(t.At.X, t.At.Y, clean, attributes...)
}

// Image implements Canvas. The picture is part of the document.
func (s *SVG) Image(area plane.Rect, data []byte) {
	if s.readyImage(area, data) {
		fmt.Fprintf(s.svg.Writer, `<image x="%.*f" y="%.*f" width="%.*f" height="%.*f" preserveAspectRatio="none" xlink:href="data:image/jpeg;base64,%s"/>`+"\n",
			places, area.Min.X, places, area.Min.Y, places, area.Width(), places, area.Height(), base64.StdEncoding.EncodeToString(data))
	}
}

// Group implements Canvas. The name shows as the group's title.
func (s *SVG) Group(name string) {
	if s.enter("group") {
		s.svg.Group()
		s.svg.Title(s.clean(name))
	}
}

// End implements Canvas.
func (s *SVG) End() {
	if s.leave("group") {
		s.svg.Gend()
	}
}

// Clip implements Canvas.
func (s *SVG) Clip(rings ...plane.Ring) {
	whole, ok := s.shapes(rings)
	if !ok || !s.enter("clip") {
		return
	}
	s.clips++
	id := fmt.Sprintf("%sclip%d", s.ids, s.clips)
	s.svg.ClipPath(fmt.Sprintf(`id="%s"`, id))
	s.svg.Path(pathData(whole), `clip-rule="evenodd"`)
	s.svg.ClipEnd()
	s.svg.Group(fmt.Sprintf(`clip-path="url(#%s)"`, id))
}

// Unclip implements Canvas.
func (s *SVG) Unclip() {
	if s.leave("clip") {
		s.svg.Gend()
	}
}

// Close ends the document and returns the first fault of the picture or of the writer.
func (s *SVG) Close() error {
	s.close()
	if s.fault != nil {
		return fmt.Errorf("drawing SVG: %w", s.fault)
	}
	s.svg.End()
	if err := s.out.Flush(); err != nil {
		return fmt.Errorf("writing SVG: %w", err)
	}
	return nil
}

// joined returns the parts that are not empty, with a colon between them.
func joined(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), ": ")
}

// pathData returns the rings as path data. Every character comes from a number.
func pathData(rings []plane.Ring) string {
	var d strings.Builder
	for _, r := range rings {
		for i, p := range r {
			letter := "L"
			if i == 0 {
				letter = "M"
			}
			fmt.Fprintf(&d, "%s%.*f,%.*f", letter, places, p.X, places, p.Y)
		}
		d.WriteString("Z")
	}
	return d.String()
}

func paintAttributes(p Paint) string {
	fill := "none"
	if p.Fill.On {
		fill = p.Fill.Colour.hex()
	}
	return fmt.Sprintf(`fill="%s" %s`, fill, strokeAttributes(p.Stroke))
}

func strokeAttributes(k Stroke) string {
	if k.Width <= 0 {
		return `stroke="none"`
	}
	out := fmt.Sprintf(`stroke="%s" stroke-width="%.*f" stroke-linejoin="round"`, k.Colour.hex(), places, k.Width)
	if pattern := k.Dash.Pattern(k.Width); pattern != nil {
		lengths := make([]string, len(pattern))
		for i, l := range pattern {
			lengths[i] = fmt.Sprintf("%.*f", places, l)
		}
		out += fmt.Sprintf(` stroke-dasharray="%s"`, strings.Join(lengths, " "))
	}
	return out
}
