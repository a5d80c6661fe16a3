package sheet

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/wall/plane"
)

// plumbSteps returns how far apart plumb lines may stand, mm, the farthest first: lengths that are
// soon found on a tape.
func (v view) plumbSteps() []float64 {
	if v.work.Units.Imperial() {
		return []float64{48 * inch, 24 * inch, 12 * inch, 6 * inch, 3 * inch}
	}
	return []float64{1000, 500, 200, 100, 50}
}

// plumbs returns how far from the left end of the face the plumb lines of the sheet stand, mm: at whole
// steps, as far apart as leaves one on the sheet's own part, clear of its ends, of the crosses, and of
// the mark that the sheet is measured by.
func (l *leaf) plumbs() []float64 {
	const air = 10.0
	taken := []float64{l.mark.X}
	for _, i := range slices.Concat(l.Holes, l.beyond) {
		taken = append(taken, l.work.Map.Holes[i].At.X)
	}
	for _, step := range l.plumbSteps() {
		var out []float64
		for x := math.Ceil((l.Cell.Min.X+air)/step) * step; x < l.Cell.Max.X-air; x += step {
			free := !slices.ContainsFunc(taken, func(t float64) bool { return math.Abs(t-x) < crossReach+1 })
			if free && x > l.bounds.Min.X && x < l.bounds.Max.X {
				out = append(out, x)
			}
		}
		if len(out) > 0 {
			return out
		}
	}
	return nil
}

// plumb draws the plumb lines.
func (l *leaf) plumb() {
	for _, x := range l.plumbs() {
		at := l.ToPage(plane.Point{X: x}).X
		l.Group("plumb line")
		l.line(at, l.Frame.Min.Y, at, l.Frame.Max.Y, draw.Stroke{Width: draw.Width018, Colour: soft, Dash: draw.DashDot})
		l.End()
		l.spots.take(plane.Rect{Min: plane.Point{X: at - 0.3, Y: l.Frame.Min.Y}, Max: plane.Point{X: at + 0.3, Y: l.Frame.Max.Y}}, worthArrow)
	}
}

// plumbLabels says beside every plumb line where it stands.
func (l *leaf) plumbLabels() {
	word := "plumb, "
	if !holemap.Upright(l.face) {
		word = ""
	}
	for _, x := range l.plumbs() {
		at := l.ToPage(plane.Point{X: x}).X
		text := fmt.Sprintf("%s%s from %s", word, l.length(x), l.endName(l.print, "left"))
		long := wide(text, bitHeight, false) + 1
		var places []plane.Rect
		for y := l.Frame.Min.Y + 4; y+long < l.visible().Max.Y-2; y += 5 {
			for _, side := range []float64{-1, 1} {
				places = append(places, sized(plane.Point{X: at + side*(bitHeight/2+1.1), Y: y + long/2}, bitHeight+0.8, long))
			}
		}
		box, cost, found := l.spots.best(places)
		if !found || cost >= worthLabel {
			continue
		}
		l.spots.take(box, worthLabel)
		l.Group("plumb line")
		knockout(l, box)
		l.say(box.Max.X-0.4, box.Max.Y-0.5, bitHeight, text, 0, style{turn: math.Pi / 2, colour: quiet})
		l.End()
	}
}

// fromRight says how far the measured mark stands from the right end of the face, where that is nearer
// than the left end; nothing elsewhere.
func (l *leaf) fromRight() string {
	right := l.bounds.Max.X - l.mark.X
	if right < 0 || right >= l.mark.X-l.bounds.Min.X {
		return ""
	}
	if !l.work.Units.Imperial() {
		right = math.Round(2*right) / 2 // what a tape shows
	}
	return l.length(right) + " from " + l.endName(l.print, "right")
}
