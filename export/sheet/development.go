package sheet

import (
	"math"

	"wallshoal/export/holemap"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// Elevations returns the faces that elevations are drawn of, in the order of the site: every wall,
// and a ceiling as one of them. The sides of what stands on a wall, and the back of one that stands
// alone, are drawn beside it.
func Elevations(s wall.Site) []int {
	var out []int
	for i, f := range s.Faces {
		if f.IsWall() {
			out = append(out, i)
		}
	}
	return out
}

// A development is one wall as it is seen from before it, and beside it the sides that are not seen
// so, unfolded.
type development struct {
	main  *picture
	nets  []*net
	views []view // every face that is drawn, the wall first
	drawn Scale
	calm  bool
}

// develop returns the development of the wall that a face is, or of a face alone where it is none.
// A calm one is for those who look and do not measure.
func develop(p pen, w holemap.Work, face int, calm bool) (*development, error) {
	v, err := look(w, face)
	if err != nil {
		return nil, err
	}
	d := &development{
		main:  &picture{pen: p, view: v, calm: calm, keys: map[int]string{}},
		views: []view{v}, calm: calm,
	}
	if !v.isWall() {
		return d, nil
	}
	sides := make(map[int][]view)
	for i, f := range w.Site.Faces {
		if f.Wall != v.face.Wall || f.IsWall() {
			continue
		}
		side, err := look(w, i)
		if err != nil {
			return nil, err
		}
		sides[f.Obstruction] = append(sides[f.Obstruction], side)
	}
	for _, back := range sides[noObstruction] {
		if back.number > 0 {
			d.views = append(d.views, back)
			n, _ := newNet(p, "", back.face.Name+", as seen from the other side", []view{back})
			n.parts[0].alone = true
			d.nets = append(d.nets, n)
		}
	}
	for i := range v.wall.Obstructions {
		d.unfold(p, i, withCorners(sides[i]))
	}
	return d, nil
}

// noObstruction stands in a face for the thing that it is a side of, where there is none.
const noObstruction = -1

// withCorners returns the sides of one thing with the corners at which they meet one another.
func withCorners(sides []view) []view {
	var among wall.Site
	for _, v := range sides {
		among.Faces = append(among.Faces, v.face)
	}
	corners := among.Corners()
	for i := range sides {
		for _, j := range corners[i] {
			j.To = sides[j.To].index
			sides[i].joins = append(sides[i].joins, j)
		}
	}
	return sides
}

// unfold adds the sides of one thing on the wall: its front, or its back, where it is seen from
// before the wall, and the others as a net about it.
func (d *development) unfold(p pen, obstruction int, sides []view) {
	var about *view
	var rest []view
	for _, v := range sides {
		parallel := v.face.Frame.Out.Dot(d.main.face.Frame.Out) > level
		if parallel && about == nil {
			about = &v
		}
		if v.number == 0 {
			continue
		}
		d.views = append(d.views, v)
		if parallel {
			d.main.fronts = append(d.main.fronts, &picture{pen: p, view: v, calm: d.calm})
		} else {
			rest = append(rest, v)
		}
	}
	if len(rest) == 0 {
		return
	}
	key := keyLetters(len(d.main.keys))
	d.main.keys[obstruction] = key
	title := d.main.wall.Obstructions[obstruction].Name
	if about != nil {
		n, left := newNet(p, key, title, append([]view{*about}, rest...))
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
func keyLetters(n int) string { return rowLetters(n) }

// A drawing is something that takes a box on the page.
type drawing interface {
	size(ratio float64) plane.Point
	place(corner plane.Point, ratio float64)
}

func (d *development) drawings() []drawing {
	out := []drawing{d.main}
	for _, n := range d.nets {
		n.calm = d.calm
		out = append(out, n)
	}
	return out
}

// fit chooses the largest scale at which the development fits the area, and puts it in the middle.
// The figure is left out where it would make the wall much smaller.
func (d *development) fit(area plane.Rect) {
	d.main.withPerson = false
	alone, _ := d.scaleFor(area)
	d.drawn = alone
	if d.main.isWall() && !d.main.wall.Ceiling {
		d.main.withPerson = true
		beside, fits := d.scaleFor(area)
		d.main.withPerson = fits && beside.Ratio <= alone.Ratio*2.5
		if d.main.withPerson {
			d.drawn = beside
		}
	}
	drawings := d.drawings()
	corners, took, _ := arrange(drawings, area, d.drawn.Ratio)
	shift := plane.Point{X: (area.Width() - took.X) / 2, Y: (area.Height() - took.Y) / 2}
	for i, b := range drawings {
		b.place(corners[i].Add(shift), d.drawn.Ratio)
	}
}

// scaleFor returns the largest scale at which the development fits the area, and whether there is
// one; the smallest where there is none.
func (d *development) scaleFor(area plane.Rect) (Scale, bool) {
	scales := Scales(d.main.work.Units)
	if d.calm {
		scales = pictureScales(d.main.work.Units)
	}
	for _, s := range scales {
		if _, _, fits := arrange(d.drawings(), area, s.Ratio); fits {
			return s, true
		}
	}
	return scales[len(scales)-1], false
}

// drawingGap is the space between two drawings, mm.
const drawingGap = 7.0

// arrange puts drawings into an area in rows from its top-left corner, each in the first row that has
// room for it, and returns their corners and the width and height that they take. It reports
// whether they fit.
func arrange(drawings []drawing, area plane.Rect, ratio float64) (corners []plane.Point, took plane.Point, fits bool) {
	type row struct{ top, height, used float64 }
	var rows []row
	for _, b := range drawings {
		size := b.size(ratio)
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
func (d *development) fills(area plane.Rect) float64 {
	b := d.main.bounds
	return math.Max(b.Width()/area.Width(), b.Height()/area.Height()) / d.drawn.Ratio
}

// draw draws the development.
func (d *development) draw() {
	d.main.draw()
	for _, n := range d.nets {
		n.draw()
	}
}

// all returns the wall with everything that hangs on any face of the development, to be counted.
func (d *development) all() view {
	whole := d.views[0]
	whole.pieces, whole.holes = nil, nil
	for _, v := range d.views {
		whole.pieces = append(whole.pieces, v.pieces...)
		whole.holes = append(whole.holes, v.holes...)
	}
	return whole
}

// paperFor lays the development out on the smallest of the papers on which it is not lost, or the
// largest: a wall alone is not lost where it fills half of the sheet, a wall with other faces where
// no larger sheet would show it larger.
func (d *development) paperFor(papers []Paper, inside func(Paper) plane.Rect) Paper {
	best := papers[0]
	d.fit(inside(best))
	for _, p := range papers[1:] {
		ratio, fills := d.drawn.Ratio, d.fills(inside(best))
		if len(d.nets) == 0 && fills > 0.5 {
			break
		}
		d.fit(inside(p))
		if len(d.nets) > 0 && d.drawn.Ratio >= ratio {
			d.fit(inside(best))
			break
		}
		best = p
	}
	return best
}
