package sheet

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/tiling"
	"wallshoal/wall/plane"
)

// plumbSteps returns how far apart plumb lines may stand, mm, the farthest first: lengths that are
// soon found on a tape.
func plumbSteps(v elevation.View) []float64 {
	if v.Work.Units.Imperial() {
		return []float64{48 * drafting.Inch, 24 * drafting.Inch, 12 * drafting.Inch, 6 * drafting.Inch, 3 * drafting.Inch}
	}
	return []float64{1000, 500, 200, 100, 50}
}

// cutApart returns the parts of the face that the sheet shows and that have holes of its own: more than one
// where what stands out of the face goes right across the sheet, so that it falls into pieces when that is
// cut away.
func (l *Leaf) cutApart() []plane.Region {
	shown, err := l.View.Face.Outline.Intersection(plane.RegionOf(drafting.Corners(l.Area)))
	if err != nil {
		return nil
	}
	var out []plane.Region
	for _, o := range l.Things {
		if l.StandOut(o) > 0 && l.shows(o.Shape.Bounds()) {
			if rest, err := shown.Difference(plane.RegionOf(o.Shape)); err == nil {
				shown = rest
			}
		}
	}
	for _, p := range shown.Polygons() {
		part := plane.RegionOf(p.Outer)
		if slices.ContainsFunc(l.Tile.Holes, func(i int) bool { return part.Contains(l.Work.Map.Holes[i].At) }) {
			out = append(out, part)
		}
	}
	return out
}

// chords returns from where to where an upright line lies in a region, or a level one, shorter parts than
// some left out.
func chords(r plane.Region, at float64, upright bool, least float64) [][2]float64 {
	at += 1e-4 // off the corners
	var ends []float64
	for _, ring := range r.Rings() {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			if !upright {
				a, b = plane.Point{X: a.Y, Y: a.X}, plane.Point{X: b.Y, Y: b.X}
			}
			if (a.X < at) != (b.X < at) {
				ends = append(ends, drafting.Round2(a.Y+float64((b.Y-a.Y)*(at-a.X))/(b.X-a.X)))
			}
		}
	}
	slices.Sort(ends)
	var out [][2]float64
	for i := 0; i+1 < len(ends); i += 2 {
		if ends[i+1]-ends[i] > least {
			out = append(out, [2]float64{ends[i], ends[i+1]})
		}
	}
	return out
}

// leastChord is how long a line in a part of a sheet has to be for the part to be hung by it, mm.
const leastChord = 60.0

// longEnough narrows a range of places down to where lines in a section are long enough to hang it by, or as
// long as there are any: at a slope a section ends in a corner.
func longEnough(section plane.Region, from, to float64, upright bool) (low, high float64) {
	for _, least := range []float64{leastChord, leastChord / 2} {
		low, high = math.Inf(1), math.Inf(-1)
		for at := from; at <= to; at += 4 {
			if len(chords(section, at, upright, least)) > 0 {
				low, high = math.Min(low, at), math.Max(high, at)
			}
		}
		if high-low > least/2 {
			return low, high
		}
	}
	return from, to
}

// plumbs returns how far from the left end of the face the plumb lines of the sheet stand, mm: at whole
// steps, as far apart as leaves one on the sheet's own part, clear of its ends, of the crosses, and of
// the mark that the sheet is measured by; and one in each section that has none of those.
func (l *Leaf) plumbs() []float64 {
	taken := []float64{l.mark.X}
	for _, i := range slices.Concat(l.Tile.Holes, l.Beyond) {
		taken = append(taken, l.Work.Map.Holes[i].At.X)
	}
	from, to := math.Max(l.Cell.Min.X, l.Bounds.Min.X), math.Min(l.Cell.Max.X, l.Bounds.Max.X)
	out := l.steps(from, to, 0, taken)
	for _, s := range l.sections {
		if !slices.ContainsFunc(out, func(x float64) bool { return len(chords(s, x, true, leastChord)) > 0 }) {
			b := s.Bounds()
			left, right := longEnough(s, math.Max(from, b.Min.X), math.Min(to, b.Max.X), true)
			if more := l.steps(left, right, 0, taken); len(more) > 0 && !slices.Contains(out, more[len(more)/2]) {
				out = append(out, more[len(more)/2])
			}
		}
	}
	return out
}

// steps returns places from one to another at whole steps from an origin, the widest steps that leave one
// clear of the ends and of what is taken; else the one place that is clearest.
func (l *Leaf) steps(from, to, origin float64, taken []float64) []float64 {
	const air = 10.0
	for _, step := range plumbSteps(l.View) {
		var out []float64
		for x := math.Ceil((from+air-origin)/step)*step + origin; x < to-air; x += step {
			if !slices.ContainsFunc(taken, func(t float64) bool { return math.Abs(t-x) < drafting.CrossReach+1 }) {
				out = append(out, x)
			}
		}
		if len(out) > 0 {
			return out
		}
	}
	step, most := 10.0, 1.0
	if l.Work.Units.Imperial() {
		step = drafting.Inch / 2
	}
	var out []float64
	for x := math.Ceil((from-origin)/step)*step + origin; x < to; x += step {
		free := math.Min(x-from, to-x)
		for _, t := range taken {
			free = math.Min(free, math.Abs(t-x))
		}
		if free > most+tiling.Speck {
			out, most = []float64{x}, free
		}
	}
	return out
}

// A fineLevel is a fine level line in one section of a sheet.
type fineLevel struct {
	y       float64 // on the face, mm
	section plane.Region
}

// chords returns from where to where it lies in its section: all that is long enough, else the one there is.
func (f fineLevel) chords() [][2]float64 {
	if long := chords(f.section, f.y, false, leastChord); len(long) > 0 {
		return long
	}
	return chords(f.section, f.y, false, elevation.LeastEdge)
}

// fineLevels returns a level line for each section of the sheet that no level line of the face crosses where
// it is seen: the plumb lines place a piece of paper from side to side alone. They count from the line that the
// black mark counts from: two on one sheet would be mixed up.
func (l *Leaf) fineLevels() []fineLevel {
	_, upright := l.Datum()
	taken := []float64{l.mark.Y}
	for _, i := range slices.Concat(l.Tile.Holes, l.Beyond) {
		taken = append(taken, l.Work.Map.Holes[i].At.Y)
	}
	foot := l.ToFace(l.seen().Max).Y
	var out []fineLevel
	for _, s := range l.sections {
		if slices.ContainsFunc(l.View.Levels(), func(line elevation.LevelLine) bool {
			return line.Y > foot+lineAir && line.Y < l.Cell.Max.Y-lineAir && len(chords(s, line.Y, false, leastChord)) > 0
		}) {
			continue
		}
		origin, b := 0.0, s.Bounds()
		if line, found := l.LevelAt(l.mark); found && upright {
			origin = line.Y
		}
		low, high := longEnough(s, math.Max(b.Min.Y, l.Cell.Min.Y), math.Min(b.Max.Y, l.Cell.Max.Y), false)
		if at := l.steps(low, high, origin, taken); len(at) > 0 {
			out = append(out, fineLevel{at[len(at)/2], s})
		}
	}
	return out
}

// fineLine is the look of the fine lines that a sheet is laid out along.
var fineLine = draw.Stroke{Width: draw.Width018, Colour: drafting.Soft, Dash: draw.DashDot}

// plumb draws the plumb lines, and the fine level lines.
func (l *Leaf) plumb() {
	for _, x := range l.upright {
		at := l.ToPage(plane.Point{X: x}).X
		l.Group("plumb line")
		l.Segment(at, l.Frame.Min.Y, at, l.Frame.Max.Y, fineLine)
		l.End()
		l.takeLine(plane.Rect{Min: plane.Point{X: at - 0.3, Y: l.Frame.Min.Y}, Max: plane.Point{X: at + 0.3, Y: l.Frame.Max.Y}})
	}
	for _, f := range l.fine {
		for _, c := range f.chords() {
			a, b := l.ToPage(plane.Point{X: c[0], Y: f.y}), l.ToPage(plane.Point{X: c[1], Y: f.y})
			l.Group("fine level line")
			l.Line(a, b, fineLine)
			l.End()
			l.takeLine(plane.Rect{Min: a, Max: b}.Grow(0.3))
		}
	}
}

// takeLine keeps words off a fine line.
func (l *Leaf) takeLine(box plane.Rect) {
	l.spots.Take(box, worthArrow)
	l.paper.Take(box, worthArrow)
}

// labelEvery is how far apart the words on a long line stand at most, mm: paper is handled a part at a time,
// and what is above an opening or the top of a wall is thrown away.
const labelEvery = 1000.0

// plumbLabels says beside every plumb line where it stands, in each section that it crosses and again along
// a long one, and beside every fine level line how high that is.
func (l *Leaf) plumbLabels() {
	for _, x := range l.upright {
		var chord [][2]float64
		for _, s := range l.sections {
			chord = append(chord, chords(s, x, true, leastChord/2)...)
		}
		if len(chord) == 0 {
			chord = [][2]float64{{l.Area.Min.Y, l.Area.Max.Y}}
		}
		for _, c := range chord {
			parts := math.Ceil((c[1] - c[0]) / labelEvery)
			for n := range int(parts) {
				top := c[1] - (c[1]-c[0])*float64(n)/parts
				l.plumbLabel(x, top, top-(c[1]-c[0])/parts)
			}
		}
	}
	for _, f := range l.fine {
		for _, c := range f.chords() {
			a, b := l.ToPage(plane.Point{X: c[0], Y: f.y}), l.ToPage(plane.Point{X: c[1], Y: f.y})
			l.Group("fine level line")
			l.alongLevel(l.fineWords(f), plane.Rect{Min: a, Max: b}, drafting.Style{Colour: drafting.Quiet})
			l.End()
		}
	}
}

// plumbWords says where a plumb line stands: from the left end of the face, and where that has room from
// the right one too, if it is nearer.
func (l *Leaf) plumbWords(x float64) []string {
	word := "plumb, "
	if !holemap.Upright(l.View.Face) {
		word = ""
	}
	short := fmt.Sprintf("%s%s from %s", word, l.Length(x), EndName(l.View, l.Print, "left"))
	if right := l.Bounds.Max.X - x; right > 0 && right < x-l.Bounds.Min.X {
		return []string{fmt.Sprintf("%s, %s from %s", short, l.Length(drafting.Round2(right)), EndName(l.View, l.Print, "right")), short}
	}
	return []string{short}
}

// plumbLabel writes the words of a plumb line beside it, between two heights on the face.
func (l *Leaf) plumbLabel(x, top, bottom float64) {
	at := l.ToPage(plane.Point{X: x}).X
	from, to := l.ToPage(plane.Point{Y: top}).Y, math.Min(l.ToPage(plane.Point{Y: bottom}).Y, l.visible().Max.Y)
	for _, text := range l.plumbWords(x) {
		long := drafting.TextWidth(text, elevation.BitHeight, false) + 1
		var places []plane.Rect
		for y := math.Max(from, l.Frame.Min.Y) + 4; y+long < to-2; y += 5 {
			for _, side := range []float64{-1, 1} {
				places = append(places, drafting.BoxAt(plane.Point{X: at + side*(elevation.BitHeight/2+1.1), Y: y + long/2}, elevation.BitHeight+0.8, long))
			}
		}
		box, cost, found := l.spots.Best(places)
		if !found || cost >= worthLabel {
			continue
		}
		l.spots.Take(box, worthLabel)
		l.Group("plumb line")
		drafting.Knockout(l, box)
		l.Say(box.Max.X-0.4, box.Max.Y-0.5, elevation.BitHeight, text, 0, drafting.Style{Turn: math.Pi / 2, Colour: drafting.Quiet})
		l.End()
		return
	}
}

// fineWords says how high a fine level line is: from the level line that it is carried over from.
func (l *Leaf) fineWords(f fineLevel) string {
	line, upright := l.LevelAt(l.mark)
	if !upright {
		return l.Length(f.y) + " from " + l.FootWords()
	}
	if off := drafting.Round2(f.y - line.Y); off < 0 {
		return fmt.Sprintf("level, %s below the %s", l.Length(-off), l.LevelName(line))
	}
	return fmt.Sprintf("level, %s above the %s", l.Length(drafting.Round2(f.y-line.Y)), l.LevelName(line))
}

// fromRight says how far the measured mark stands from the right end of the face, where that is nearer
// than the left end; nothing elsewhere.
func (l *Leaf) fromRight() string {
	right := l.Bounds.Max.X - l.mark.X
	if right < 0 || right >= l.mark.X-l.Bounds.Min.X {
		return ""
	}
	if !l.Work.Units.Imperial() {
		right = math.Round(2*right) / 2 // what a tape shows
	}
	return l.Length(right) + " from " + EndName(l.View, l.Print, "right")
}
