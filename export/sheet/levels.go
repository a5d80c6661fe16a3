package sheet

import (
	"math"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/tiling"
	"wallshoal/wall/plane"
)

// alongLevel writes words beside a level line on the page, again along a long one.
func (l *Leaf) alongLevel(text string, at plane.Rect, s drafting.Style) {
	parts := math.Max(1, math.Ceil(at.Width()/labelEvery))
	for n := range int(parts) {
		from := at.Min.X + at.Width()*float64(n)/parts
		l.besideLevel(text, plane.Rect{Min: plane.Point{X: from, Y: at.Min.Y}, Max: plane.Point{X: from + at.Width()/parts, Y: at.Max.Y}}, s)
	}
}

// besideLevel writes words beside a level line, or in a crowd fewer of them: a line without any is no use to
// whoever hangs the sheet.
func (l *Leaf) besideLevel(text string, at plane.Rect, s drafting.Style) {
	for n, words := range []string{text, elevation.Briefer(text), elevation.Fewer(text), elevation.Fewest(text)} {
		width := drafting.TextWidth(words, elevation.BitHeight, s.Bold)
		rim, step := 9.0, 6.0
		if n > 0 {
			rim, step = 3, 2
		}
		var candidates []plane.Rect
		for _, side := range []float64{-1, 1} {
			for x := math.Max(at.Min.X, l.Frame.Min.X+rim); x+width < math.Min(at.Max.X, l.visible().Max.X-rim); x += step {
				candidates = append(candidates, drafting.BoxAt(plane.Point{X: x + width/2, Y: at.Min.Y + side*(elevation.BitHeight/2+1.2)}, width+1, elevation.BitHeight+1))
			}
		}
		box, cost, found := l.spots.Best(candidates)
		if !found || cost >= worthLabel {
			continue
		}
		l.spots.Take(box, worthLabel)
		drafting.Knockout(l, box)
		l.Say(box.Min.X+0.5, box.Max.Y-0.5, elevation.BitHeight, words, 0, s)
		return
	}
}

func (l *Leaf) levelLabel(text string, at plane.Rect) {
	l.alongLevel(text, at, drafting.Style{Bold: true})
}

// levelLabels names the level lines on the sheet.
func (l *Leaf) levelLabels() {
	for _, line := range l.View.Levels() {
		for _, s := range l.onSheet(line) {
			l.levelLabel(l.LevelMark(line), s)
		}
	}
}

// levelLines draws the level lines that cross the sheet.
func (l *Leaf) levelLines() {
	for _, line := range l.View.Levels() {
		for _, s := range l.onSheet(line) {
			l.Group("datum")
			l.Segment(s.Min.X, s.Min.Y, s.Max.X, s.Min.Y, draw.Stroke{Width: draw.Width035, Dash: draw.DashDot})
			l.End()
			l.spots.Take(s.Grow(0.4), worthDatum)
			l.paper.Take(s.Grow(0.4), worthDatum)
		}
	}
}

// onSheet returns where a level line lies on the page.
func (l *Leaf) onSheet(line elevation.LevelLine) []plane.Rect {
	if line.Y < l.Area.Min.Y+tiling.Speck || line.Y > l.Area.Max.Y-tiling.Speck {
		return nil // along an edge of the drawing it would be taken for that
	}
	var out []plane.Rect
	for _, s := range line.Spans {
		a, b := math.Max(s[0], l.Area.Min.X), math.Min(s[1], l.Area.Max.X)
		if len(line.Spans) == 1 && line.Datum && b <= a {
			continue
		}
		if a < b {
			out = append(out, plane.Rect{Min: l.ToPage(plane.Point{X: a, Y: line.Y}), Max: l.ToPage(plane.Point{X: b, Y: line.Y})})
		}
	}
	return out
}

// upWordAside writes the word of the arrow that says which way up is beside the frame, where it is too
// long to stand between the arrow and the check bars.
func (l *Leaf) upWordAside(top float64) {
	text, x := l.UpWords(), l.Frame.Max.X+0.8+draw.Letter25/2
	long := drafting.TextWidth(text, draw.Letter25, true) + 1
	var places []plane.Rect
	for y := top; y+long < l.Body.Max.Y; y += 3 {
		places = append(places, drafting.BoxAt(plane.Point{X: x, Y: y + long/2}, draw.Letter25, long))
	}
	if box, _, found := l.paper.Best(places); found {
		l.paper.Take(box, worthLabel)
		l.Say(box.Max.X, box.Max.Y-0.5, draw.Letter25, text, 0, drafting.Style{Bold: true, Turn: math.Pi / 2})
	}
}
