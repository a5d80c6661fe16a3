package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// A levelLine is a line across a face that its sheets are laid out along: the datum, or one that
// is drawn for what the datum does not cross, or where a face does not stand upright.
type levelLine struct {
	y     float64      // on the face, mm
	spans [][2]float64 // from where to where it lies on the face, from the left
	datum bool
	base  bool // on a face that does not stand upright: parallel to the edge that its sheets are measured from
}

// leastSpan is the shortest part of a face, from left to right, for which a level line of its own is
// drawn, mm.
const leastSpan = 150.0

// eyeHeight is how high above where somebody stands a level line is drawn with ease, mm.
const eyeHeight = 1400.0

// mostLevels is how many level lines a face has at most.
const mostLevels = 4

// levels returns the level lines of the face: the datum where it crosses the face, and as few more as
// every part of the face needs to have one; of one that does not stand upright its baseline.
func (v view) levels() []levelLine {
	y, upright := v.datum()
	if !upright {
		return v.baselines()
	}
	var out []levelLine
	if spans := v.spansAt(y); len(spans) > 0 {
		out = append(out, levelLine{y: y, spans: spans, datum: true})
	} else {
		out = append(out, levelLine{y: v.ownLevel(), spans: v.spansAt(v.ownLevel())})
	}
	step := 500.0
	if v.work.Units.Imperial() {
		step = 24 * inch
	}
	for len(out) < mostLevels && v.bare(out) > leastSpan {
		next, least, found := levelLine{}, v.bare(out)-leastSpan, false
		eye := v.footAt(v.widestGap(out)) + eyeHeight
		for n := 1; float64(n)*step < v.bounds.Height()+math.Abs(y-v.bounds.Centre().Y); n++ {
			for _, way := range []float64{1, -1} {
				l := levelLine{y: y + way*float64(n)*step}
				l.spans = v.spansAt(l.y)
				bare := v.bare(append(slices.Clip(out), l))
				nearer := math.Abs(l.y-eye) < math.Abs(next.y-eye)-1
				if meets(l, out) && (bare < least-leastSpan || !found && bare <= least || found && bare < least+leastSpan && nearer) {
					next, found = l, true
					least = math.Min(least, bare)
				}
			}
		}
		if !found {
			break
		}
		out = append(out, next)
	}
	return out
}

// meets reports whether a level line can be carried over from one of others: both lie on the face, one
// above the other, over some length.
func meets(l levelLine, others []levelLine) bool {
	for _, o := range others {
		for _, a := range l.spans {
			for _, b := range o.spans {
				if math.Min(a[1], b[1])-math.Max(a[0], b[0]) > leastSpan {
					return true
				}
			}
		}
	}
	return false
}

// spansAt returns from where to where a level line lies on the face.
func (v view) spansAt(y float64) [][2]float64 {
	y += 1e-4 // off the corners
	var xs []float64
	for _, r := range v.rings {
		for i, a := range r {
			if b := r[(i+1)%len(r)]; (a.Y < y) != (b.Y < y) {
				xs = append(xs, round2(a.X+float64((b.X-a.X)*(y-a.Y))/(b.Y-a.Y)))
			}
		}
	}
	slices.Sort(xs)
	var out [][2]float64
	for i := 0; i+1 < len(xs); i += 2 {
		out = append(out, [2]float64{xs[i], xs[i+1]})
	}
	return out
}

// gaps returns the parts of the face, from left to right, that have none of the level lines.
func (v view) gaps(levels []levelLine) [][2]float64 {
	var all, out [][2]float64
	for _, l := range levels {
		all = append(all, l.spans...)
	}
	slices.SortFunc(all, func(a, b [2]float64) int { return slices.Compare(a[:], b[:]) })
	to := v.bounds.Min.X
	for _, s := range append(all, [2]float64{v.bounds.Max.X, v.bounds.Max.X}) {
		if s[0] > to {
			out = append(out, [2]float64{to, s[0]})
		}
		to = math.Max(to, s[1])
	}
	return out
}

// bare returns how much of the face, from left to right, has none of the level lines, mm.
func (v view) bare(levels []levelLine) float64 {
	sum := 0.0
	for _, g := range v.gaps(levels) {
		sum += g[1] - g[0]
	}
	return sum
}

// widestGap returns the middle of the widest part of the face that has none of the level lines.
func (v view) widestGap(levels []levelLine) float64 {
	best := [2]float64{v.bounds.Min.X, v.bounds.Min.X}
	for _, g := range v.gaps(levels) {
		if g[1]-g[0] > best[1]-best[0] {
			best = g
		}
	}
	return (best[0] + best[1]) / 2
}

// over returns the part of a level line at or next to a place from left to right, and how far away.
func (l levelLine) over(x float64) (span [2]float64, far float64) {
	far = math.Inf(1)
	for _, s := range l.spans {
		if f := math.Max(0, math.Max(s[0]-x, x-s[1])); f < far {
			span, far = s, f
		}
	}
	return span, far
}

// levelAt returns the level line that a place of the face is measured from: of those that run above or
// below it the nearest, the datum of two as near; and whether there is any.
func (v view) levelAt(p plane.Point) (best levelLine, found bool) {
	if _, upright := v.datum(); !upright {
		return best, false
	}
	near := func(l levelLine) (far, off float64) {
		_, far = l.over(p.X)
		return far, math.Abs(l.y - p.Y)
	}
	for _, l := range v.levels() {
		far, off := near(l)
		bestFar, bestOff := near(best)
		if !found || far < bestFar-1 || far < bestFar+1 && off < bestOff-1 {
			best, found = l, true
		}
	}
	return best, found
}

// name is what sheets call the line where its height does not stand beside it.
func (v view) levelName(l levelLine) string {
	switch {
	case l.datum:
		return "datum"
	case l.base:
		return "line " + v.figure(l.y)
	}
	return "level " + v.figure(v.heightOf(plane.Point{Y: l.y}))
}

// mark is what stands on the line.
func (v view) levelMark(l levelLine) string {
	switch {
	case l.datum:
		return "DATUM " + v.length(v.work.Site.Room.Datum)
	case l.base:
		return "LINE " + v.length(l.y) + " from " + v.footWords()
	}
	return "LEVEL " + v.length(v.heightOf(plane.Point{Y: l.y}))
}

// levelLines draws the level lines that cross the sheet.
func (l *leaf) levelLines() {
	for _, line := range l.view.levels() {
		for _, s := range l.onSheet(line) {
			l.Group("datum")
			l.line(s.Min.X, s.Min.Y, s.Max.X, s.Min.Y, draw.Stroke{Width: draw.Width035, Dash: draw.DashDot})
			l.End()
			l.spots.take(s.Grow(0.4), worthDatum)
			l.paper.take(s.Grow(0.4), worthDatum)
		}
	}
}

// onSheet returns where a level line lies on the page.
func (l *leaf) onSheet(line levelLine) []plane.Rect {
	if line.y < l.Area.Min.Y+speck || line.y > l.Area.Max.Y-speck {
		return nil // along an edge of the drawing it would be taken for that
	}
	var out []plane.Rect
	for _, s := range line.spans {
		a, b := math.Max(s[0], l.Area.Min.X), math.Min(s[1], l.Area.Max.X)
		if len(line.spans) == 1 && line.datum && b <= a {
			continue
		}
		if a < b {
			out = append(out, plane.Rect{Min: l.ToPage(plane.Point{X: a, Y: line.y}), Max: l.ToPage(plane.Point{X: b, Y: line.y})})
		}
	}
	return out
}

// levelLabels names the level lines on the sheet.
func (l *leaf) levelLabels() {
	for _, line := range l.view.levels() {
		for _, s := range l.onSheet(line) {
			l.levelLabel(l.levelMark(line), s)
		}
	}
}

func (l *leaf) levelLabel(text string, at plane.Rect) {
	l.alongLevel(text, at, style{bold: true})
}

// alongLevel writes words beside a level line on the page, again along a long one.
func (l *leaf) alongLevel(text string, at plane.Rect, s style) {
	parts := math.Max(1, math.Ceil(at.Width()/labelEvery))
	for n := range int(parts) {
		from := at.Min.X + at.Width()*float64(n)/parts
		l.besideLevel(text, plane.Rect{Min: plane.Point{X: from, Y: at.Min.Y}, Max: plane.Point{X: from + at.Width()/parts, Y: at.Max.Y}}, s)
	}
}

// besideLevel writes words beside a level line, or in a crowd fewer of them: a line without any is no use to
// whoever hangs the sheet.
func (l *leaf) besideLevel(text string, at plane.Rect, s style) {
	for n, words := range []string{text, briefer(text), fewer(text), fewest(text)} {
		width := wide(words, bitHeight, s.bold)
		rim, step := 9.0, 6.0
		if n > 0 {
			rim, step = 3, 2
		}
		var candidates []plane.Rect
		for _, side := range []float64{-1, 1} {
			for x := math.Max(at.Min.X, l.Frame.Min.X+rim); x+width < math.Min(at.Max.X, l.visible().Max.X-rim); x += step {
				candidates = append(candidates, sized(plane.Point{X: x + width/2, Y: at.Min.Y + side*(bitHeight/2+1.2)}, width+1, bitHeight+1))
			}
		}
		box, cost, found := l.spots.best(candidates)
		if !found || cost >= worthLabel {
			continue
		}
		l.spots.take(box, worthLabel)
		knockout(l, box)
		l.say(box.Min.X+0.5, box.Max.Y-0.5, bitHeight, words, 0, s)
		return
	}
}

// briefer returns the words of a level line that say how far it is from which: "400 mm below datum" of "level,
// 400 mm below the datum".
func briefer(text string) string {
	if words, is := strings.CutPrefix(text, "level, "); is {
		return strings.Replace(words, " the ", " ", 1)
	}
	return text
}

// fewer returns the words of a level line without what goes without saying: "DATUM 1500" of "DATUM 1500 mm",
// "400 mm below" of "level, 400 mm below the datum".
func fewer(text string) string {
	words, is := strings.CutPrefix(text, "level, ")
	if is {
		words, _, _ = strings.Cut(words, " the ")
		return words
	}
	text, _, _ = strings.Cut(text, " from ")
	for _, unit := range []string{" mm", " cm", " m"} {
		if short, found := strings.CutSuffix(text, unit); found {
			return short
		}
	}
	return text
}

// fewest returns what of fewer tells one line from another where even that has no room: what the datum is
// called, since there is one.
func fewest(text string) string {
	if words, is := strings.CutPrefix(text, "DATUM "); is && words != "" {
		return "DATUM"
	}
	return fewer(text)
}

// moreLevels says how the further level lines are drawn: where they run, how they are carried over from
// one that is there, and how they are checked at the foot of the wall. It is nothing where there is none.
func (v view) moreLevels() string {
	all := v.levels()
	text := ""
	for i, l := range all {
		if i == 0 || len(l.spans) == 0 {
			continue
		}
		from, other, most := [2]float64{}, levelLine{}, 0.0
		for _, o := range all[:i] {
			for _, a := range l.spans {
				for _, b := range o.spans {
					if low, high := math.Max(a[0], b[0]), math.Min(a[1], b[1]); high-low > most {
						from, other, most = [2]float64{low, high}, o, high-low
					}
				}
			}
		}
		span, _ := l.over(from[0])
		way, off := "above", l.y-other.y
		if off < 0 {
			way, off = "below", -off
		}
		text += fmt.Sprintf(" The %s does not reach all of this face: draw a second level line too, %s, exactly %s %s the %s, from %s to %s from the left end. Carry it over between %s and %s, where the wall has both lines, with a tape held plumb, at two places",
			v.levelName(other), v.levelMark(l), v.length(off), way, v.levelName(other), v.length(span[0]), v.length(span[1]),
			v.length(math.Ceil(from[0])), v.length(math.Floor(from[1])))
		if foot, high, where := v.footUnder(l); where != "" {
			text += fmt.Sprintf("; it is then %s above %s at %s", v.length(high-foot), v.footName(), where) + v.outWords()
		}
		text += ". Each sheet counts from the line that runs nearest."
	}
	return text
}

// footUnder returns the height of the level foot of the face under an end of a line, that of the line,
// and which end that is; none where the foot slopes there.
func (v view) footUnder(l levelLine) (foot, high float64, where string) {
	for _, end := range []struct {
		x, in float64
		words string
	}{{v.bounds.Max.X, -1, "its right end"}, {v.bounds.Min.X, 1, "its left end"}} {
		_, far := l.over(end.x)
		a, b := v.footAt(end.x+end.in), v.footAt(end.x+end.in*leastSpan)
		if far < 1 && math.Abs(a-b) < 0.5 {
			return a, l.y, end.words
		}
	}
	return 0, 0, ""
}

// footAt returns the height on the face of its lowest point at a place from left to right.
func (v view) footAt(x float64) float64 {
	low := math.Inf(1)
	for _, r := range v.rings {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			if a.X != b.X && math.Min(a.X, b.X) <= x && math.Max(a.X, b.X) >= x {
				low = math.Min(low, a.Y+float64((b.Y-a.Y)*(x-a.X))/(b.X-a.X))
			}
		}
	}
	return low
}
