package draw

import (
	"fmt"
	"slices"

	"wallshoal/wall/plane"
)

// A Mark is one thing drawn on a Record.
type Mark struct {
	Kind   string   // "line", "polyline", "polygon", "circle", "text", "image", "clip" or "unclip"
	Page   int      // from 1
	Groups []string // the groups it stands in, outermost first
	Points []plane.Point
	Rings  []plane.Ring
	Radius float64
	Paint  Paint
	Text   Text // as it prints
	JPEG   []byte
}

// A Size is the width and height of a page in mm.
type Size struct{ Width, Height float64 }

// A Record is a canvas that only remembers.
type Record struct {
	keeper
	Pages []Size
	Marks []Mark

	groups []string
}

// NewRecord returns an empty record.
func NewRecord() *Record { return &Record{} }

// Near implements Zoomed: with a group that says from which width on.
func (r *Record) Near(pixels float64) { r.Group(fmt.Sprintf("near %.0f", pixels)) }

// EndNear implements Zoomed.
func (r *Record) EndNear() { r.End() }

// Page implements Canvas.
func (r *Record) Page(width, height float64) {
	if r.turn(width, height) {
		r.Pages = append(r.Pages, Size{width, height})
	}
}

// Line implements Canvas.
func (r *Record) Line(a, b plane.Point, s Stroke) {
	if r.ready(a.X, a.Y, b.X, b.Y, s.Width) && s.Width > 0 {
		r.add(Mark{Kind: "line", Points: []plane.Point{a, b}, Paint: Paint{Stroke: s}})
	}
}

// Polyline implements Canvas.
func (r *Record) Polyline(points []plane.Point, s Stroke) {
	if r.readyAt(points, s.Width) && len(points) > 1 && s.Width > 0 {
		r.add(Mark{Kind: "polyline", Points: slices.Clone(points), Paint: Paint{Stroke: s}})
	}
}

// Polygon implements Canvas.
func (r *Record) Polygon(rings []plane.Ring, p Paint) {
	whole, ok := r.shapes(rings)
	if ok && r.ready(p.Stroke.Width) && len(whole) > 0 {
		r.add(Mark{Kind: "polygon", Rings: cloneRings(whole), Paint: p})
	}
}

// Circle implements Canvas.
func (r *Record) Circle(c plane.Point, radius float64, p Paint) {
	if r.ready(c.X, c.Y, radius, p.Stroke.Width) && radius > 0 {
		r.add(Mark{Kind: "circle", Points: []plane.Point{c}, Radius: radius, Paint: p})
	}
}

// Text implements Canvas.
func (r *Record) Text(t Text) {
	if !r.ready(t.At.X, t.At.Y, t.Height, t.Turn) || t.Height <= 0 {
		return
	}
	t.Say = r.clean(t.Say)
	r.add(Mark{Kind: "text", Points: []plane.Point{t.At}, Text: t})
}

// Image implements Canvas.
func (r *Record) Image(area plane.Rect, data []byte) {
	if r.readyImage(area, data) {
		r.add(Mark{Kind: "image", Points: []plane.Point{area.Min, area.Max}, JPEG: slices.Clone(data)})
	}
}

// Group implements Canvas.
func (r *Record) Group(name string) {
	if r.enter("group") {
		r.groups = append(r.groups, r.clean(name))
	}
}

// End implements Canvas.
func (r *Record) End() {
	if r.leave("group") {
		r.groups = r.groups[:len(r.groups)-1]
	}
}

// Clip implements Canvas.
func (r *Record) Clip(rings ...plane.Ring) {
	if whole, ok := r.shapes(rings); ok && r.enter("clip") {
		r.add(Mark{Kind: "clip", Rings: cloneRings(whole)})
	}
}

// Unclip implements Canvas.
func (r *Record) Unclip() {
	if r.leave("clip") {
		r.add(Mark{Kind: "unclip"})
	}
}

// Close ends the record and returns the first fault of the picture.
func (r *Record) Close() error {
	r.close()
	if r.fault != nil {
		return fmt.Errorf("recording: %w", r.fault)
	}
	return nil
}

// Texts returns what the page with the given number says, line by line, in the order of drawing.
func (r *Record) Texts(page int) []string {
	var out []string
	for _, m := range r.Marks {
		if m.Kind == "text" && m.Page == page {
			out = append(out, m.Text.Say)
		}
	}
	return out
}

func (r *Record) add(m Mark) {
	m.Page, m.Groups = len(r.Pages), slices.Clone(r.groups)
	r.Marks = append(r.Marks, m)
}

func cloneRings(rings []plane.Ring) []plane.Ring {
	out := make([]plane.Ring, len(rings))
	for i, ring := range rings {
		out[i] = slices.Clone(ring)
	}
	return out
}
