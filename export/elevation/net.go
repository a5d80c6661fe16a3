package elevation

import (
	"fmt"
	"math"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A net is the sides of one thing on a wall, laid flat about its front or its back and joined to it
// where they join it in the room, each with its name and its size.
type net struct {
	drafting.Pen
	key, title string
	parts      []*part // what they are laid flat about first
	calm       bool

	box    plane.Rect // that it all takes on the page
	labels []label
}

// A part is one face of a net.
type part struct {
	Picture
	lay   plane.Motion     // lays the face flat in the plane of the first part
	side  plane.Point      // the way from the first part to this one on the page; 0, 0 for the first
	folds [][2]plane.Point // the ends of its corners with the first part, in the plane of that
	back  bool             // the part falls back from the first
	ghost bool             // drawn only so that the others can be read
	alone bool             // no front or back of the thing is drawn with it
}

// A label is what is written beside a part: its name first, and lesser things below.
type label struct {
	drafting.Note
	box plane.Rect
}

// The distances within a net, mm.
const (
	labelGap     = 1.2
	captionSpace = 6.0 // for the line over a net
	shortest     = 26.0
)

// newNet returns the net of the given faces, which know their corners with one another, about the
// first one, which is drawn in any case. With it come the faces that cannot be laid flat with them:
// those that do not meet the first at a corner, and those that would come to lie on others.
func newNet(p drafting.Pen, key, title string, views []View) (n *net, left []View) {
	n = &net{Pen: p, key: key, title: title}
	first := views[0]
	n.add(&part{Picture: Picture{Pen: p, View: first}, lay: plane.Stay(), ghost: first.Number == 0})
	for _, v := range views[1:] {
		if q, ok := unfolded(p, v, first); ok && n.free(q) {
			n.add(q)
			continue
		}
		left = append(left, v)
	}
	return n, left
}

func (n *net) add(q *part) { n.parts = append(n.parts, q) }

// unfolded returns a face as a part of a net about another, and whether the two meet at a corner.
func unfolded(p drafting.Pen, v, about View) (*part, bool) {
	var corner wall.Join
	longest := 0.0
	for _, j := range v.Joins {
		if far := j.A.Distance(j.B); j.To == about.Index && far > longest {
			corner, longest = j, far
		}
	}
	if longest == 0 {
		return nil, false
	}
	a, b := corner.Fold.Apply(corner.A), corner.Fold.Apply(corner.B)
	out := b.Sub(a).Scale(1 / b.Distance(a)).Rotate(math.Pi / 2)
	if side := corner.Fold.Apply(v.Bounds.Centre()).Sub(a); side.Dot(out) < 0 {
		out = out.Scale(-1)
	}
	q := &part{
		Picture: Picture{Pen: p, View: v}, lay: corner.Fold, back: corner.Outside,
	}
	// A face that something divides meets the other at several corners in one line.
	for _, j := range v.Joins {
		if j.To == about.Index && j.Fold.Apply(j.A).Distance(q.lay.Apply(j.A)) < 1 && j.Fold.Apply(j.B).Distance(q.lay.Apply(j.B)) < 1 {
			q.folds = append(q.folds, [2]plane.Point{j.Fold.Apply(j.A), j.Fold.Apply(j.B)})
		}
	}
	if math.Abs(out.X) >= math.Abs(out.Y) {
		q.side = plane.Point{X: math.Copysign(1, out.X)}
	} else {
		q.side = plane.Point{Y: -math.Copysign(1, out.Y)}
	}
	return q, true
}

// flat returns the rings of a part in the plane of the first.
func (q *part) flat() []plane.Ring {
	out := make([]plane.Ring, len(q.View.Rings))
	for i, r := range q.View.Rings {
		out[i] = r.Map(q.lay.Apply)
	}
	return out
}

// flatBox returns the box round a part in the plane of the first.
func (q *part) flatBox() plane.Rect {
	rings := q.flat()
	b := rings[0].Bounds()
	for _, r := range rings[1:] {
		b = b.Union(r.Bounds())
	}
	return b
}

// free reports whether a part laid flat lies on no other.
func (n *net) free(q *part) bool {
	for _, other := range n.parts {
		for _, r := range q.flat() {
			for _, own := range other.flat() {
				if plane.RegionOf(own).Touches(r) {
					return false
				}
			}
		}
	}
	return true
}

// Size returns the width and height that the net takes on paper at a scale of 1:ratio, mm.
func (n *net) Size(ratio float64) plane.Point {
	n.Place(plane.Point{}, ratio)
	return plane.Point{X: n.box.Width(), Y: n.box.Height()}
}

// Place puts the net at a scale of 1:ratio with its top-left corner at the given point.
func (n *net) Place(corner plane.Point, ratio float64) {
	n.lie(plane.Point{}, ratio)
	n.lie(corner.Sub(n.box.Min), ratio)
}

// lie puts the net with the origin of its first part at the given point of the page.
func (n *net) lie(origin plane.Point, ratio float64) {
	whole := drafting.Mapping{Origin: origin, K: 1 / ratio}
	n.labels = nil
	var taken []plane.Rect
	for _, q := range n.parts {
		q.Mapping = drafting.Mapping{Origin: whole.At(q.lay.Apply(plane.Point{})), K: whole.K, Turn: q.lay.Angle()}
		if math.Abs(q.Turn) < 1e-9 {
			q.Turn = 0
		}
		taken = append(taken, whole.Box(q.flatBox()))
	}
	parts := len(taken)
	for i, q := range n.parts {
		l, ok := n.labelOf(q, taken[i], taken)
		if ok {
			n.labels = append(n.labels, l)
			taken = append(taken, l.box)
		}
	}
	n.box = taken[0]
	for _, b := range taken[1:] {
		n.box = n.box.Union(b)
	}
	n.box = n.box.Grow(0.5)
	n.box.Min.Y -= captionSpace
	n.box.Max.X = math.Max(n.box.Max.X, n.box.Min.X+drafting.TextWidth(n.caption(), draw.Letter25, true)+1)
	s := drafting.NewSpots(n.box)
	for _, q := range n.parts {
		q.calm = n.calm
		q.Settle(s)
	}
	for _, l := range taken[parts:] {
		s.Take(l, WorthText)
	}
}

func (n *net) caption() string {
	return drafting.Joined("  ", n.key, n.title)
}

// labelOf returns the label of a part, on its far side and clear of everything taken. A first part
// that others surround has none: the caption names it.
func (n *net) labelOf(q *part, area plane.Rect, taken []plane.Rect) (label, bool) {
	if q.ghost {
		return label{}, false
	}
	sides := []plane.Point{q.side}
	if q == n.parts[0] {
		sides = []plane.Point{{Y: 1}, {Y: -1}, {X: -1}, {X: 1}}
	}
	for _, side := range sides {
		turned := side.X != 0
		along := area.Width()
		if turned {
			along = area.Height()
		}
		text := drafting.Note{Lines: n.wordsOf(q, math.Max(along, shortest)), Height: labelHeight, Turned: turned}
		width, height := text.Size()
		most := 1
		if len(sides) == 1 {
			most = 12
		}
		for step := range most {
			off := labelGap + 2*float64(step)
			at := area.Centre().Add(plane.Point{
				X: side.X * (off + (area.Width()+width)/2),
				Y: side.Y * (off + (area.Height()+height)/2),
			})
			if box := drafting.BoxAt(at, width, height); !overlapsAny(box, taken) {
				return label{text, box}, true
			}
		}
	}
	return label{}, false
}

// labelHeight is the height of the letters of a label, mm.
const labelHeight = draw.Letter18

func overlapsAny(box plane.Rect, others []plane.Rect) bool {
	for _, o := range others {
		if box.Overlaps(o) {
			return true
		}
	}
	return false
}

// wordsOf returns what the label of a part says, in lines of the given length.
func (n *net) wordsOf(q *part, length float64) []string {
	words := []string{q.SideName()}
	if !n.calm {
		words[0] += fmt.Sprintf(", %s × %s", q.figure(q.Bounds.Width()), q.figure(q.Bounds.Height()))
		switch {
		case q == n.parts[0]:
		case q.back:
			words = append(words, "folds away from you")
		default:
			words = append(words, "folds towards you")
		}
		if q.Several {
			words = append(words, fmt.Sprintf("on sheets %d-…", q.Number))
		}
	}
	var lines []string
	for _, w := range words {
		lines = append(lines, drafting.Wrapped(w, labelHeight, length)...)
	}
	return lines
}

// SideName returns the name of the face without that of the thing it is a side of.
func (v View) SideName() string {
	o, _ := v.Owner()
	return strings.TrimPrefix(v.Face.Name, o.Name+" ")
}

// draw draws the net.
func (n *net) draw() {
	n.Group("sides of " + n.title)
	n.Say(n.box.Min.X+0.5, n.box.Min.Y+draw.Letter25+0.5, draw.Letter25, n.caption(), 0, drafting.Style{Bold: true})
	for _, q := range n.parts {
		n.Group("face " + q.Face.Name)
		edge := drafting.Bold
		if q.ghost {
			edge = drafting.Medium
		}
		rings := q.Mapping.Rings(q.View.Rings)
		n.Polygon(rings, draw.Paint{Fill: draw.Solid(draw.White), Stroke: edge})
		n.Clip(rings...)
		q.built()
		q.Standing()
		n.Unclip()
		n.End()
	}
	n.folds()
	for _, q := range n.parts {
		n.Group("face " + q.Face.Name)
		q.datumLine()
		if q.isShown() {
			q.hang()
			q.codes()
		} else {
			q.outlines()
		}
		n.End()
	}
	for _, l := range n.labels {
		n.Note(l.Note, l.box, drafting.Ink)
	}
	n.End()
}

// isShown reports whether the part is drawn whole here. The first part is drawn whole where it is
// seen from before its wall; about its sides it is only there to be read.
func (q *part) isShown() bool { return q.side != plane.Point{} || q.alone }

// outlines draws what hangs on a face in light lines.
func (p *Picture) outlines() {
	for _, h := range p.Pieces {
		p.Polygon([]plane.Ring{p.Ring(h.Ring)}, draw.Paint{Stroke: draw.Stroke{Width: p.outlineWidth(), Colour: drafting.Soft}})
	}
}

// folds draws the lines along which the parts are folded, on white, over their edges.
func (n *net) folds() {
	whole := n.parts[0].Mapping
	for _, q := range n.parts[1:] {
		n.Group("fold to " + q.Face.Name)
		for _, f := range q.folds {
			a, b := whole.At(f[0]), whole.At(f[1])
			n.Line(a, b, draw.Stroke{Width: draw.Width070, Colour: draw.White})
			n.Line(a, b, draw.Stroke{Width: draw.Width025, Dash: draw.DashDotDot})
		}
		n.End()
	}
}
