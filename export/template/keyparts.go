package template

import (
	"fmt"
	"math"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/tiling"
	"wallshoal/wall/plane"
)

// The names that find no room in their cells, as a share of all: past the first the picture takes a page
// of its own, and past the second it is shown in parts as well.
const (
	mostAside = 0.05
	mostParts = 0.15
)

// partAir is how far the picture of a part goes on past its edges, mm.
const partAir = 4.0

// parts divides a picture that is crowded even on a page of its own: into windows on the face, row by
// row, at the smallest scale at which the names have room, and returns them with that scale. There are
// none where the picture need not be divided. The picture itself stays as it is.
func (k *keyPage) parts(area plane.Rect) ([]plane.Rect, float64) {
	if len(k.faces) > 1 || !k.crowded(mostParts) {
		return nil, 0
	}
	const step, largest = 1.15, 4.0
	f := k.faces[0]
	whole, drawn := f.Mapping, f.drawn
	ratio := drawn.Ratio
	for ratio > largest && k.crowded(mostParts) {
		ratio = math.Max(largest, math.Floor(ratio/step))
		f.Place(area.Min, ratio)
	}
	f.Mapping, f.drawn = whole, drawn

	g := f.gridBox()
	wide, high := (area.Width()-2*(rowMargin+partAir))*ratio, (area.Height()-topMargin-lengthBelow-2*partAir)*ratio
	columns, rows := math.Ceil(g.Width()/wide), math.Ceil(g.Height()/high)
	wide, high = g.Width()/columns, g.Height()/rows
	var out []plane.Rect
	for r := range int(rows) {
		for c := range int(columns) {
			corner := plane.Point{X: g.Min.X + float64(c)*wide, Y: g.Max.Y - float64(r+1)*high}
			window := plane.Rect{Min: corner, Max: corner.Add(plane.Point{X: wide, Y: high})}
			if f.printsIn(window) {
				out = append(out, window)
			}
		}
	}
	return out, ratio
}

// printsIn reports whether a printed tile has its middle in a window.
func (k *keyFace) printsIn(window plane.Rect) bool {
	for _, t := range k.Tiles {
		if len(t.Holes) > 0 && window.Contains(t.Cell.Centre()) {
			return true
		}
	}
	return false
}

// drawParts draws every part on a page of its own.
func (k *keyPage) drawParts(windows []plane.Rect, ratio float64) {
	f := k.faces[0]
	whole, drawn := f.Mapping, f.drawn
	for i, w := range windows {
		area := k.turnPage(fmt.Sprintf(", part %d of %d", i+1, len(windows)))
		f.window, f.drawn, f.Mapping = w, drafting.Scale{Ratio: ratio}, drafting.Mapping{K: 1 / ratio}
		f.Origin = plane.Point{X: area.Min.X + rowMargin + partAir - w.Min.X*f.K, Y: area.Min.Y + topMargin + partAir + w.Max.Y*f.K}
		k.picture(f)
	}
	f.window, f.Mapping, f.drawn = plane.Rect{}, whole, drawn
}

// picture draws one face, mirrored where the print is.
func (k *keyPage) picture(f *keyFace) {
	if k.print.Mirror {
		box := f.box()
		f.Pen = drafting.Pen{Canvas: drafting.Mirrored{Canvas: k.Canvas, Twice: box.Min.X + box.Max.X}}
	}
	f.wallWithTiles()
	f.Pen = k.Pen
}

// box returns the part of the page that the picture of the face takes: all of it, or a part with some air.
func (k *keyFace) box() plane.Rect {
	if k.window == (plane.Rect{}) {
		return k.Mapping.Box(k.gridBox())
	}
	return k.Mapping.Box(k.window).Grow(partAir)
}

// names reports whether the name of a tile belongs into the picture.
func (k *keyFace) names(t tiling.Tile) bool {
	switch {
	case len(t.Holes) == 0 || len(k.windows) > 0 && k.window == (plane.Rect{}):
		return false
	case k.window == (plane.Rect{}):
		return true
	}
	return k.window.Contains(t.Cell.Centre())
}

// partNames draws in the picture of the whole face where its parts are.
func (k *keyFace) partNames(s *drafting.Spots) {
	for i, w := range k.windows {
		box := k.Mapping.Box(w)
		k.Polygon([]plane.Ring{drafting.Corners(box)}, draw.Paint{Stroke: draw.Stroke{Width: draw.Width025, Colour: drafting.Quiet, Dash: draw.Dashed}})
		text := fmt.Sprintf("part %d", i+1)
		place, _, found := s.Best(drafting.Around(box.Centre(), drafting.TextWidth(text, draw.Letter35, true)+1, draw.Letter35+1, 0, 3))
		if found {
			s.Take(place, elevation.WorthHole)
			drafting.Knockout(k, place)
			k.Say(place.Centre().X, place.Max.Y-0.5, draw.Letter35, text, 0, drafting.Style{Bold: true, Align: draw.Centre})
		}
	}
}
