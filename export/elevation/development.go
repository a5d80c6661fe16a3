package elevation

import (
	"errors"
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/holemap"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// Faces returns the faces that elevations are drawn of, in the order of the site: every wall,
// and a ceiling as one of them. The sides of what stands on a wall, and the back of one that stands
// alone, are drawn beside it.
func Faces(s wall.Site) []int {
	var out []int
	for i, f := range s.Faces {
		if f.IsWall() {
			out = append(out, i)
		}
	}
	return out
}

// A Development is one wall as it is seen from before it, and beside it the sides that are not seen
// so, unfolded.
type Development struct {
	Main  *Picture
	nets  []*net
	Views []View // every face that is drawn, the wall first
	Drawn drafting.Scale
	calm  bool
}

// Develop returns the development of the wall that a face is, or of a face alone where it is none.
// A calm one is for those who look and do not measure.
func Develop(p drafting.Pen, w holemap.Work, face int, calm bool) (*Development, error) {
	v, err := Look(w, face)
	if err != nil {
		return nil, err
	}
	d := &Development{
		Main:  &Picture{Pen: p, View: v, calm: calm, keys: map[int]string{}},
		Views: []View{v}, calm: calm,
	}
	if !v.IsWall() {
		return d, nil
	}
	sides := make(map[int][]View)
	for i, f := range w.Site.Faces {
		if f.Wall != v.Face.Wall || f.IsWall() {
			continue
		}
		side, err := Look(w, i)
		if err != nil {
			return nil, err
		}
		sides[f.Obstruction] = append(sides[f.Obstruction], side)
	}
	for _, back := range sides[noObstruction] {
		if back.Number > 0 {
			d.Views = append(d.Views, back)
			n, _ := newNet(p, "", back.Face.Name+", as seen from the other side", []View{back})
			n.parts[0].alone = true
			d.nets = append(d.nets, n)
		}
	}
	for i := range v.Wall.Obstructions {
		d.unfold(p, i, withCorners(sides[i]))
	}
	return d, nil
}

// noObstruction stands in a face for the thing that it is a side of, where there is none.
const noObstruction = -1

// withCorners returns the sides of one thing with the corners at which they meet one another.
func withCorners(sides []View) []View {
	var among wall.Site
	for _, v := range sides {
		among.Faces = append(among.Faces, v.Face)
	}
	corners := among.Corners()
	for i := range sides {
		for _, j := range corners[i] {
			j.To = sides[j.To].Index
			sides[i].Joins = append(sides[i].Joins, j)
		}
	}
	return sides
}

// unfold adds the sides of one thing on the wall: its front, or its back, where it is seen from
// before the wall, and the others as a net about it.
func (d *Development) unfold(p drafting.Pen, obstruction int, sides []View) {
	var about *View
	var rest []View
	for _, v := range sides {
		parallel := v.Face.Frame.Out.Dot(d.Main.Face.Frame.Out) > Level
		if parallel && about == nil {
			about = &v
		}
		if v.Number == 0 {
			continue
		}
		d.Views = append(d.Views, v)
		if parallel {
			d.Main.Fronts = append(d.Main.Fronts, &Picture{Pen: p, View: v, calm: d.calm})
		} else {
			rest = append(rest, v)
		}
	}
	if len(rest) == 0 {
		return
	}
	key := keyLetters(len(d.Main.keys))
	d.Main.keys[obstruction] = key
	title := d.Main.Wall.Obstructions[obstruction].Name
	if about != nil {
		n, left := newNet(p, key, title, append([]View{*about}, rest...))
		if len(n.parts) > 1 {
			d.nets, rest = append(d.nets, n), left
		}
	}
	for len(rest) > 0 {
		n, left := newNet(p, key, title, rest)
		n.parts[0].alone = true
		d.nets, rest = append(d.nets, n), left
	}
}

// keyLetters returns the key of the drawing with that number, counted from 0: A to Z, then AA.
func keyLetters(n int) string { return drafting.Letters(n) }

// A Drawing is something that takes a box on the page.
type Drawing interface {
	Size(ratio float64) plane.Point
	Place(corner plane.Point, ratio float64)
}

func (d *Development) drawings() []Drawing {
	out := []Drawing{d.Main}
	for _, n := range d.nets {
		n.calm = d.calm
		out = append(out, n)
	}
	return out
}

// Fit chooses the largest scale at which the development fits the area, and puts it in the middle.
// The figure is left out where it would make the wall much smaller.
func (d *Development) Fit(area plane.Rect) {
	d.Main.withPerson = false
	alone, _ := d.scaleFor(area)
	d.Drawn = alone
	if d.Main.IsWall() && !d.Main.Wall.Ceiling {
		d.Main.withPerson = true
		beside, fits := d.scaleFor(area)
		d.Main.withPerson = fits && beside.Ratio <= alone.Ratio*2.5
		if d.Main.withPerson {
			d.Drawn = beside
		}
	}
	drawings := d.drawings()
	corners, took, _ := Arrange(drawings, area, d.Drawn.Ratio)
	shift := plane.Point{X: (area.Width() - took.X) / 2, Y: (area.Height() - took.Y) / 2}
	for i, b := range drawings {
		b.Place(corners[i].Add(shift), d.Drawn.Ratio)
	}
}

// scaleFor returns the largest scale at which the development fits the area, and whether there is
// one; the smallest where there is none.
func (d *Development) scaleFor(area plane.Rect) (drafting.Scale, bool) {
	scales := drafting.Scales(d.Main.Work.Units)
	if d.calm {
		scales = drafting.PictureScales(d.Main.Work.Units)
	}
	for _, s := range scales {
		if _, _, fits := Arrange(d.drawings(), area, s.Ratio); fits {
			return s, true
		}
	}
	return scales[len(scales)-1], false
}

// drawingGap is the space between two drawings, mm.
const drawingGap = 7.0

// Arrange puts drawings into an area in rows from its top-left corner, each in the first row that has
// room for it, and returns their corners and the width and height that they take. It reports
// whether they fit.
func Arrange(drawings []Drawing, area plane.Rect, ratio float64) (corners []plane.Point, took plane.Point, fits bool) {
	type row struct{ top, height, used float64 }
	var rows []row
	for _, b := range drawings {
		size := b.Size(ratio)
		i := 0
		for i < len(rows) && (rows[i].used+drawingGap+size.X > area.Width() || size.Y > rows[i].height) {
			i++
		}
		if i == len(rows) {
			top := 0.0
			if i > 0 {
				top = rows[i-1].top + rows[i-1].height + drawingGap
			}
			rows = append(rows, row{top: top, height: size.Y, used: -drawingGap})
		}
		r := &rows[i]
		corners = append(corners, area.Min.Add(plane.Point{X: r.used + drawingGap, Y: r.top}))
		r.used += drawingGap + size.X
		took.X = math.Max(took.X, r.used)
		took.Y = math.Max(took.Y, r.top+r.height)
	}
	return corners, took, took.X <= area.Width() && took.Y <= area.Height()
}

// fills returns how much of the area the wall takes up, in the direction in which it takes more.
func (d *Development) fills(area plane.Rect) float64 {
	b := d.Main.Bounds
	return math.Max(b.Width()/area.Width(), b.Height()/area.Height()) / d.Drawn.Ratio
}

// Draw draws the development.
func (d *Development) Draw() {
	d.Main.draw()
	for _, n := range d.nets {
		n.draw()
	}
}

// All returns the wall with everything that hangs on any face of the development, to be counted.
func (d *Development) All() View {
	whole := d.Views[0]
	whole.Pieces, whole.Holes = nil, nil
	for _, v := range d.Views {
		whole.Pieces = append(whole.Pieces, v.Pieces...)
		whole.Holes = append(whole.Holes, v.Holes...)
	}
	return whole
}

// paperFor lays the development out on the smallest of the papers on which it is not lost, or the
// largest: a wall alone is not lost where it fills half of the sheet, a wall with other faces where
// no larger sheet would show it larger.
func (d *Development) paperFor(papers []drafting.Paper, inside func(drafting.Paper) plane.Rect) drafting.Paper {
	best := papers[0]
	d.Fit(inside(best))
	for _, p := range papers[1:] {
		ratio, fills := d.Drawn.Ratio, d.fills(inside(best))
		if len(d.nets) == 0 && fills > 0.5 {
			break
		}
		d.Fit(inside(p))
		if len(d.nets) > 0 && d.Drawn.Ratio >= ratio {
			d.Fit(inside(best))
			break
		}
		best = p
	}
	return best
}

// ErrNoPieces says that there is nothing to show of a work.
var ErrNoPieces = errors.New("the work has no wall that carries pieces")

// Carries reports whether any face of the development carries pieces.
func (d *Development) Carries() bool {
	return slices.ContainsFunc(d.Views, func(v View) bool { return v.Number > 0 })
}
