package elevation

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/wall/plane"
)

// A LevelLine is a line across a face that its sheets are laid out along: the datum, or one that
// is drawn for what the datum does not cross, or where a face does not stand upright.
type LevelLine struct {
	Y     float64      // on the face, mm
	Spans [][2]float64 // from where to where it lies on the face, from the left
	Datum bool
	base  bool // on a face that does not stand upright: parallel to the edge that its sheets are measured from
}

// leastSpan is the shortest part of a face, from left to right, for which a level line of its own is
// drawn, mm.
const leastSpan = 150.0

// eyeHeight is how high above where somebody stands a level line is drawn with ease, mm.
const eyeHeight = 1400.0

// mostLevels is how many level lines a face has at most.
const mostLevels = 4

// Levels returns the level lines of the face: the datum where it crosses the face, and as few more as
// every part of the face needs to have one; of one that does not stand upright its baseline.
func (v View) Levels() []LevelLine {
	y, upright := v.Datum()
	if !upright {
		return v.baselines()
	}
	var out []LevelLine
	if spans := v.SpansAt(y); len(spans) > 0 {
		out = append(out, LevelLine{Y: y, Spans: spans, Datum: true})
	} else {
		out = append(out, LevelLine{Y: v.ownLevel(), Spans: v.SpansAt(v.ownLevel())})
	}
	step := 500.0
	if v.Work.Units.Imperial() {
		step = 24 * drafting.Inch
	}
	for len(out) < mostLevels && v.bare(out) > leastSpan {
		next, least, found := LevelLine{}, v.bare(out)-leastSpan, false
		eye := v.footAt(v.widestGap(out)) + eyeHeight
		for n := 1; float64(n)*step < v.Bounds.Height()+math.Abs(y-v.Bounds.Centre().Y); n++ {
			for _, way := range []float64{1, -1} {
				l := LevelLine{Y: y + way*float64(n)*step}
				l.Spans = v.SpansAt(l.Y)
				bare := v.bare(append(slices.Clip(out), l))
				nearer := math.Abs(l.Y-eye) < math.Abs(next.Y-eye)-1
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
func meets(l LevelLine, others []LevelLine) bool {
	for _, o := range others {
		for _, a := range l.Spans {
			for _, b := range o.Spans {
				if math.Min(a[1], b[1])-math.Max(a[0], b[0]) > leastSpan {
					return true
				}
			}
		}
	}
	return false
}

// SpansAt returns from where to where a level line lies on the face.
func (v View) SpansAt(y float64) [][2]float64 {
	y += 1e-4 // off the corners
	var xs []float64
	for _, r := range v.Rings {
		for i, a := range r {
			if b := r[(i+1)%len(r)]; (a.Y < y) != (b.Y < y) {
				xs = append(xs, drafting.Round2(a.X+float64((b.X-a.X)*(y-a.Y))/(b.Y-a.Y)))
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
func (v View) gaps(levels []LevelLine) [][2]float64 {
	var all, out [][2]float64
	for _, l := range levels {
		all = append(all, l.Spans...)
	}
	slices.SortFunc(all, func(a, b [2]float64) int { return slices.Compare(a[:], b[:]) })
	to := v.Bounds.Min.X
	for _, s := range append(all, [2]float64{v.Bounds.Max.X, v.Bounds.Max.X}) {
		if s[0] > to {
			out = append(out, [2]float64{to, s[0]})
		}
		to = math.Max(to, s[1])
	}
	return out
}

// bare returns how much of the face, from left to right, has none of the level lines, mm.
func (v View) bare(levels []LevelLine) float64 {
	sum := 0.0
	for _, g := range v.gaps(levels) {
		sum += g[1] - g[0]
	}
	return sum
}

// widestGap returns the middle of the widest part of the face that has none of the level lines.
func (v View) widestGap(levels []LevelLine) float64 {
	best := [2]float64{v.Bounds.Min.X, v.Bounds.Min.X}
	for _, g := range v.gaps(levels) {
		if g[1]-g[0] > best[1]-best[0] {
			best = g
		}
	}
	return (best[0] + best[1]) / 2
}

// over returns the part of a level line at or next to a place from left to right, and how far away.
func (l LevelLine) over(x float64) (span [2]float64, far float64) {
	far = math.Inf(1)
	for _, s := range l.Spans {
		if f := math.Max(0, math.Max(s[0]-x, x-s[1])); f < far {
			span, far = s, f
		}
	}
	return span, far
}

// LevelAt returns the level line that a place of the face is measured from: of those that run above or
// below it the nearest, the datum of two as near; and whether there is any.
func (v View) LevelAt(p plane.Point) (best LevelLine, found bool) {
	if _, upright := v.Datum(); !upright {
		return best, false
	}
	near := func(l LevelLine) (far, off float64) {
		_, far = l.over(p.X)
		return far, math.Abs(l.Y - p.Y)
	}
	for _, l := range v.Levels() {
		far, off := near(l)
		bestFar, bestOff := near(best)
		if !found || far < bestFar-1 || far < bestFar+1 && off < bestOff-1 {
			best, found = l, true
		}
	}
	return best, found
}

// LevelName is what sheets call the line where its height does not stand beside it.
func (v View) LevelName(l LevelLine) string {
	switch {
	case l.Datum:
		return "datum"
	case l.base:
		return "line " + v.figure(l.Y)
	}
	return "level " + v.figure(v.HeightOf(plane.Point{Y: l.Y}))
}

// LevelMark is what stands on the line.
func (v View) LevelMark(l LevelLine) string {
	switch {
	case l.Datum:
		return "DATUM " + v.Length(v.Work.Site.Room.Datum)
	case l.base:
		return "LINE " + v.Length(l.Y) + " from " + v.FootWords()
	}
	return "LEVEL " + v.Length(v.HeightOf(plane.Point{Y: l.Y}))
}

// Briefer returns the words of a level line that say how far it is from which: "400 mm below datum" of "level,
// 400 mm below the datum".
func Briefer(text string) string {
	if words, is := strings.CutPrefix(text, "level, "); is {
		return strings.Replace(words, " the ", " ", 1)
	}
	return text
}

// Fewer returns the words of a level line without what goes without saying: "DATUM 1500" of "DATUM 1500 mm",
// "400 mm below" of "level, 400 mm below the datum".
func Fewer(text string) string {
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

// Fewest returns what of fewer tells one line from another where even that has no room: what the datum is
// called, since there is one.
func Fewest(text string) string {
	if words, is := strings.CutPrefix(text, "DATUM "); is && words != "" {
		return "DATUM"
	}
	return Fewer(text)
}

// MoreLevels says how the further level lines are drawn: where they run, how they are carried over from
// one that is there, and how they are checked at the foot of the wall. It is nothing where there is none.
func (v View) MoreLevels() string {
	all := v.Levels()
	text := ""
	for i, l := range all {
		if i == 0 || len(l.Spans) == 0 {
			continue
		}
		from, other, most := [2]float64{}, LevelLine{}, 0.0
		for _, o := range all[:i] {
			for _, a := range l.Spans {
				for _, b := range o.Spans {
					if low, high := math.Max(a[0], b[0]), math.Min(a[1], b[1]); high-low > most {
						from, other, most = [2]float64{low, high}, o, high-low
					}
				}
			}
		}
		span, _ := l.over(from[0])
		way, off := "above", l.Y-other.Y
		if off < 0 {
			way, off = "below", -off
		}
		text += fmt.Sprintf(" The %s does not reach all of this face: draw a second level line too, %s, exactly %s %s the %s, from %s to %s from the left end. Carry it over between %s and %s, where the wall has both lines, with a tape held plumb, at two places",
			v.LevelName(other), v.LevelMark(l), v.Length(off), way, v.LevelName(other), v.Length(span[0]), v.Length(span[1]),
			v.Length(math.Ceil(from[0])), v.Length(math.Floor(from[1])))
		if foot, high, where := v.FootUnder(l); where != "" {
			text += fmt.Sprintf("; it is then %s above %s at %s", v.Length(high-foot), v.FootName(), where) + v.OutWords()
		}
		text += ". Each sheet counts from the line that runs nearest."
	}
	return text
}

// FootUnder returns the height of the level foot of the face under an end of a line, that of the line,
// and which end that is; none where the foot slopes there.
func (v View) FootUnder(l LevelLine) (foot, high float64, where string) {
	for _, end := range []struct {
		x, in float64
		words string
	}{{v.Bounds.Max.X, -1, "its right end"}, {v.Bounds.Min.X, 1, "its left end"}} {
		_, far := l.over(end.x)
		a, b := v.footAt(end.x+end.in), v.footAt(end.x+end.in*leastSpan)
		if far < 1 && math.Abs(a-b) < 0.5 {
			return a, l.Y, end.words
		}
	}
	return 0, 0, ""
}

// footAt returns the height on the face of its lowest point at a place from left to right.
func (v View) footAt(x float64) float64 {
	low := math.Inf(1)
	for _, r := range v.Rings {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			if a.X != b.X && math.Min(a.X, b.X) <= x && math.Max(a.X, b.X) >= x {
				low = math.Min(low, a.Y+float64((b.Y-a.Y)*(x-a.X))/(b.X-a.X))
			}
		}
	}
	return low
}

// ownLevel returns a height on a face that the datum does not cross where a level line serves it: near
// its middle, at a length that is soon found on a tape.
func (v View) ownLevel() float64 {
	middle, foot, step := v.Bounds.Centre().Y, v.Face.Frame.Origin.Z, 50.0
	if v.Work.Units.Imperial() {
		step = 2 * drafting.Inch
	}
	if y := math.Round((middle+foot)/step)*step - foot; y > v.Bounds.Min.Y && y < v.Bounds.Max.Y {
		return y
	}
	return middle
}

// OffDatum words how far above or below the datum something is.
func (v View) OffDatum(mm float64) string {
	if mm < 0 {
		return v.Length(-mm) + " below the datum"
	}
	return v.Length(mm) + " above the datum"
}

// OutWords says what to do where a level line is not where it should be.
func (v View) OutWords() string {
	little, _ := v.Tolerances()
	return fmt.Sprintf("; where it is out by more than %s, measure again, and if it stays out ask whoever made the plan before a hole is drilled", v.Length(little))
}

// Tolerances returns how far what is built may be off the plan without anything changing for whoever hangs
// the sheets, and from where on pieces may no longer fit, mm: lengths that a tape shows.
func (v View) Tolerances() (little, much float64) {
	if v.Work.Units.Imperial() {
		return drafting.Inch / 4, drafting.Inch
	}
	return 5, 25
}
