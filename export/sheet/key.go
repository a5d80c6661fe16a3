package sheet

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"wallshoal/export/caution"
	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A keyPage shows which tile goes where on a face, or on the sides of one thing, and says how to
// hang them.
type keyPage struct {
	pen
	print Print
	faces []*keyFace
}

// A keyFace is one face on a key page.
type keyFace struct {
	pen
	view
	tiles []Tile
	cut   Cutting
	mapping
	drawn Scale
}

// draw draws the key page, and further pages where the text needs them.
func (k *keyPage) draw() {
	area := k.turnPage("")
	columns := 3
	if area.Width() < 240 {
		columns = 2
	}
	area.Min.Y = k.share(area, columns) + 3
	for _, f := range k.faces {
		f.wallWithTiles()
		f.caption(len(k.faces) > 1)
	}
	flow := columnFlow{pen: k.pen, columns: columnsOf(area, columns, columnGap)}
	flow.more = func() []plane.Rect { return columnsOf(k.turnPage(", continued"), columns, columnGap) }
	flow.write(k.words())
	k.index(flow.left())
}

// columnGap is the space between the columns of a key page, mm.
const columnGap = 7.0

// share divides the page between the picture and the text, so that the text does not run over onto
// a page of its own if a smaller picture spares that, and returns where the picture ends.
func (k *keyPage) share(area plane.Rect, columns int) float64 {
	for _, part := range []float64{0.56, 0.5, 0.44, 0.38, 0.56} {
		picture := area
		picture.Max.Y = area.Min.Y + area.Height()*part
		bottom := k.fit(picture)
		trial, over := draw.NewRecord(), false
		trial.Page(longestSheet, longestSheet)
		text := area
		text.Min.Y = bottom + 3
		flow := columnFlow{pen: pen{trial}, columns: columnsOf(text, columns, columnGap)}
		flow.more = func() []plane.Rect {
			over = true
			return columnsOf(area, columns, columnGap)
		}
		flow.write(k.words())
		if !over {
			return bottom
		}
	}
	picture := area
	picture.Max.Y = area.Min.Y + area.Height()*0.56
	return k.fit(picture)
}

// whole returns a view of all the faces of the page together.
func (k *keyPage) whole() view {
	all := k.first()
	for _, f := range k.faces[1:] {
		all.holes = append(slices.Clip(all.holes), f.holes...)
		all.pieces = append(slices.Clip(all.pieces), f.pieces...)
	}
	return all
}

// first returns the face that speaks for all of the page where one must.
func (k *keyPage) first() view { return k.faces[0].view }

// title returns what the page is a key to.
func (k *keyPage) title() string {
	v := k.first()
	if own, is := v.owner(); is && len(k.faces) > 1 {
		return v.wall.Name + ", " + own.Name
	}
	return v.name()
}

// turnPage starts a page with its heading and returns the area below it.
func (k *keyPage) turnPage(note string) plane.Rect {
	p, v := k.print, k.first()
	p.Paper = p.Paper.handy()
	p.Landscape = v.bounds.Width() > v.bounds.Height() || len(k.faces) > 2
	width, height := p.size()
	k.Page(width, height)
	area := p.printable()
	right := area.Max.X
	mark := v.work.Map.Fingerprint
	k.say(right, area.Min.Y+5, draw.Letter50, mark, 0, style{bold: true, align: draw.Right})
	k.say(right, area.Min.Y+9, textHeight, "fingerprint of this layout", 0, style{align: draw.Right, colour: quiet})
	room := area.Width() - math.Max(40, wide(mark, draw.Letter50, true)) - 6
	k.say(area.Min.X, area.Min.Y+5, draw.Letter50, fmt.Sprintf("Key to the hole map: %s%s", k.title(), note), room, style{bold: true})
	k.say(area.Min.X, area.Min.Y+9.5, draw.Letter25, joined(" · ", v.work.Title, v.work.For, v.work.Place, v.dated()), room, style{})
	area.Min.Y += 13
	return area
}

// dated returns the date of issue, or nothing where the plan gives none.
func (v view) dated() string {
	if v.work.Date.IsZero() {
		return ""
	}
	return v.work.Date.Format("2006-01-02")
}

// joined joins what is not empty.
func joined(by string, parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), by)
}

// The room that names take beside the drawing, mm.
const (
	rowMargin    = 9.0
	topMargin    = 5.0
	lengthBelow  = 8.0
	captionLeast = 44.0 // for the name of one face of several
)

// fit chooses the scale of the drawings of all faces within the area, and their places, and returns
// where they end.
func (k *keyPage) fit(area plane.Rect) float64 {
	drawings := make([]drawing, len(k.faces))
	for i, f := range k.faces {
		drawings[i] = f
	}
	// A key is a diagram: it fills its room at whatever whole scale that takes.
	ratio := 1.0
	corners, took, fits := arrange(drawings, area, ratio)
	for !fits && ratio < mostRatio {
		ratio = math.Max(ratio+1, math.Floor(ratio*1.02))
		corners, took, fits = arrange(drawings, area, ratio)
	}
	shift := plane.Point{X: math.Max(0, (area.Width()-took.X)/2)}
	for i, f := range k.faces {
		f.place(corners[i].Add(shift), ratio)
	}
	return area.Min.Y + took.Y
}

// mostRatio is the smallest scale that a key is drawn to.
const mostRatio = 1e6

// size returns the width and height that the face takes with its tiles at a scale of 1:ratio, mm.
func (k *keyFace) size(ratio float64) plane.Point {
	g := k.gridBox()
	return plane.Point{
		X: math.Max(g.Width()/ratio+2*rowMargin, captionLeast),
		Y: topMargin + g.Height()/ratio + lengthBelow,
	}
}

// place puts the face at a scale of 1:ratio with the top-left corner of what it takes at the given
// point.
func (k *keyFace) place(corner plane.Point, ratio float64) {
	g := k.gridBox()
	k.drawn = Scale{Ratio: ratio}
	k.mapping = mapping{k: 1 / ratio}
	k.origin = plane.Point{
		X: corner.X + rowMargin - g.Min.X*k.k,
		Y: corner.Y + topMargin + g.Max.Y*k.k,
	}
}

// gridBox returns the box about the face and all of its tiles.
func (k *keyFace) gridBox() plane.Rect {
	box := k.bounds
	for _, t := range k.tiles {
		box = box.Union(t.Cell)
	}
	return box
}

// wallWithTiles draws the face under the grid of its tiles.
func (k *keyFace) wallWithTiles() {
	if k.covered() {
		k.Polygon(k.mapping.rings(k.view.rings), draw.Paint{Fill: draw.Solid(draw.Grey(236))})
		k.Polygon(k.mapping.rings(ringsOf(k.face.Outline)), draw.Paint{Fill: draw.Solid(draw.White), Stroke: shade(thin, soft)})
	}
	for _, o := range k.things {
		k.Polygon([]plane.Ring{k.ring(o.Shape)}, draw.Paint{Fill: draw.Solid(draw.Grey(236)), Stroke: shade(thin, soft)})
	}
	for _, p := range k.pieces {
		k.Polygon([]plane.Ring{k.ring(p.ring)}, draw.Paint{Stroke: shade(hair, soft)})
	}
	k.leftOut()
	for _, t := range k.tiles {
		k.Polygon([]plane.Ring{corners(k.mapping.box(t.Cell))}, draw.Paint{Stroke: shade(hair, soft)})
	}
	for _, h := range k.holes {
		k.Circle(k.mapping.at(h.At), 0.3, draw.Paint{Fill: draw.Solid(ink)})
	}
	k.Polygon(k.mapping.rings(k.view.rings), draw.Paint{Stroke: bold})
	k.datumAcross()
	k.rowNames()
	k.namesInside()
}

// The hatching of sheets that are left out, mm and radians.
const (
	leftOutPitch = 1.6
	leftOutAngle = math.Pi / 4
)

// leftOut hatches the tiles that have no holes, all in a row as one.
func (k *keyFace) leftOut() {
	all := k.mapping.box(k.gridBox())
	var run []plane.Ring
	for _, t := range k.tiles {
		if len(t.Holes) == 0 {
			run = append(run, corners(k.mapping.box(t.Cell)))
		}
	}
	draw.Hatch(k, run, all, leftOutPitch, leftOutAngle, shade(hair, faint))
}

func (k *keyFace) datumAcross() {
	y, upright := k.datum()
	if !upright || y < k.bounds.Min.Y || y > k.bounds.Max.Y {
		return
	}
	g := k.mapping.box(k.gridBox())
	at := k.mapping.at(plane.Point{Y: y}).Y
	k.line(g.Min.X, at, g.Max.X+2, at, draw.Stroke{Width: draw.Width025, Dash: draw.DashDot})
	k.say(g.Max.X+1, at-0.8, least, "datum", 0, style{})
}

// rowNames letters the rows, as many as there is room for.
func (k *keyFace) rowNames() {
	g := k.mapping.box(k.gridBox())
	bottom := g.Min.Y
	for _, t := range k.tiles {
		if y := k.mapping.box(t.Cell).Centre().Y; t.Column == 0 && y-least > bottom {
			k.say(g.Min.X-1.5, y+least/2, least, rowLetters(t.Row), 0, style{align: draw.Right})
			bottom = y
		}
	}
}

// namesInside names what stands on the face and the printed tiles, on white, where that covers no
// piece, hole or edge. Else the letters and numbers beside the drawing name the tiles.
func (k *keyFace) namesInside() {
	s := newSpots(k.mapping.box(k.gridBox()))
	for _, p := range k.pieces {
		s.take(k.mapping.box(p.bounds), 1)
	}
	for _, h := range k.holes {
		s.take(sized(k.mapping.at(h.At), 1, 1), worthHole)
	}
	for _, r := range k.mapping.rings(k.view.rings) {
		takeAlong(s, r)
	}
	if y, upright := k.datum(); upright {
		g := k.mapping.box(k.gridBox())
		at := k.mapping.at(plane.Point{Y: y}).Y
		s.take(plane.Rect{Min: plane.Point{X: g.Min.X, Y: at - 0.4}, Max: plane.Point{X: g.Max.X, Y: at + 0.4}}, 1)
	}
	for _, o := range k.things {
		takeAlong(s, k.mapping.ring(o.Shape))
	}
	for _, o := range k.things {
		k.thingName(s, o)
	}
	k.tileNames(s)
}

// takeAlong keeps labels off a line.
func takeAlong(s *spots, r plane.Ring) {
	for i, a := range r {
		b := r[(i+1)%len(r)]
		parts := math.Ceil(a.Distance(b) / 2)
		for n := range int(parts) {
			s.take(sized(a.Lerp(b, (float64(n)+0.5)/parts), 2.2, 2.2).Grow(-0.7), 1)
		}
	}
}

// thingName writes the name of a thing into it, where it is free.
func (k *keyFace) thingName(s *spots, o wall.Obstruction) {
	area := k.mapping.box(o.Shape.Bounds()).Grow(-0.5)
	inside := func(p plane.Point) bool { return o.Shape.Contains(k.mapping.back(p)) }
	for _, n := range notesFor(o.Name, least, area.Width(), area.Height(), area.Width(), 2) {
		width, height := n.size()
		places := slices.DeleteFunc(scatterIn(area, width, height), func(b plane.Rect) bool { return !cornersWithin(b, inside) })
		if box, cost, found := s.best(places); found && cost == 0 {
			s.take(box, 1)
			knockout(k, box)
			k.note(n, box, quiet)
			return
		}
	}
}

// tileNames names the printed tiles in their cells where the names leave air round them, and cover no
// hole.
func (k *keyFace) tileNames(s *spots) {
	const rim = 0.5
	for _, t := range k.tiles {
		if len(t.Holes) == 0 {
			continue
		}
		c := k.mapping.box(t.Cell).Grow(-rim)
		for _, height := range []float64{draw.Letter25, least} {
			box, cost, found := s.best(scatterIn(c, wide(t.Name, height, true)+2*rim, height+2*rim))
			if !found || cost >= worthHole/10 {
				continue
			}
			s.take(box, worthHole)
			knockout(k, box)
			k.say(box.Centre().X, box.Max.Y-rim, height, t.Name, 0, style{bold: true, align: draw.Centre})
			break
		}
	}
}

// worthHole is how bad it is for a name to cover a hole, against an outline.
const worthHole = 100.0

// caption gives the size of the face and the scale, after its name where there are several.
func (k *keyFace) caption(several bool) {
	g, b := k.mapping.box(k.gridBox()), k.mapping.box(k.bounds)
	size := fmt.Sprintf("%s × %s", k.length(k.bounds.Width()), k.length(k.bounds.Height()))
	words := fmt.Sprintf("%s · %s", size, scaleWords(k.drawn))
	if _, upright := k.datum(); upright {
		words = fmt.Sprintf("%s long, %s high · %s", k.length(k.bounds.Width()), k.length(k.bounds.Height()), scaleWords(k.drawn))
	}
	if several {
		room := math.Max(g.Width()+2*rowMargin, captionLeast)
		k.say(g.Min.X, g.Max.Y+3.6, draw.Letter25, fmt.Sprintf("%d- %s", k.number, k.sideName()), room, style{bold: true})
		k.say(g.Min.X, g.Max.Y+7, least, joined(" · ", size, scaleWords(k.drawn)), room, style{})
		return
	}
	k.say(b.Min.X, g.Max.Y+5, draw.Letter25, words, math.Max(b.Width(), 90), style{})
}

// printed returns how many tiles have holes.
func (k *keyFace) printed() int {
	n := 0
	for _, t := range k.tiles {
		if len(t.Holes) > 0 {
			n++
		}
	}
	return n
}

// words returns everything that the key page has to say.
func (k *keyPage) words() []block {
	return slices.DeleteFunc([]block{
		k.howToHang(), k.sheets(), k.kindsBlock(), k.drilling(), k.signsBlock(), k.cautions(), k.zonesBlock(),
	}, func(b block) bool { return len(b.rows)+len(b.items) == 0 })
}

func (k *keyPage) howToHang() block {
	level := k.faces[0].levelWords()
	for _, f := range k.faces {
		if _, upright := f.datum(); upright {
			level = f.levelWords()
			break
		}
	}
	return block{heading: "How to hang it", items: []item{
		{"1", "Print every sheet at 100 % (“actual size”), never fitted to the page."},
		{"2", "Hold a rule against the check bars of a sheet, both ways: 100 mm and 4 in. Where they are out by more than half a millimetre, the sheets are not to be used."},
		{"3", level},
		{"4", "Cut each sheet along its frame at the left and at the top, through the middle of the register marks, and round any hole as the line goes. Cut away what the sheet tells you to, for what stands out of the wall. Where a sheet runs past an inside corner or the floor, cut or fold it there."},
		{"5", "Begin at the top left of the sheets there are, and go along each row from left to right, row by row downwards. Every sheet lies over the one to its left and those above it: its cut edges on their landing lines, so that the halves of the register marks meet. Tape it along these edges. Where the picture above shows a gap between sheets, measure the next one."},
		{"6", "Measure the first sheet of every row, every sheet with no neighbour to lie on, and any other now and then: its black register mark (at the top left, if that is on the free wall) belongs where the words in its corner say. The datum on the sheet lies on that on the wall. The fine upright dash-dot lines are plumb, so far from the left end as they say: a sheet can be hung by one of them and the datum alone. Where joining and measuring differ by more than 1 mm, measuring is right."},
		{"7", "Look for cables and pipes with a detector before drilling. Where a cross has a square round it and its number an exclamation mark, a caution below has to be settled first."},
		{"8", "Drill through the paper where the lines of a cross meet. The big figure is the hole's number, the small one the bit. The grey outline is the piece, the arrow the way it heads."},
		{"9", fmt.Sprintf("Every sheet bears the fingerprint %s. One with another belongs to another layout.", k.first().work.Map.Fingerprint)},
	}}
}

// levelWords says how the first line is drawn that the sheets are laid out along.
func (k *keyFace) levelWords() string {
	y, upright := k.datum()
	switch {
	case !upright:
		return joined(" ", "Lay the sheets out from the left end and from "+k.footWords()+", as their feet say.", k.stance())
	case y < k.bounds.Min.Y || y > k.bounds.Max.Y:
		return fmt.Sprintf("The datum, %s above the floor, does not cross this face, whose foot is %s above the floor: measure from the floor, and draw a level line first.",
			k.length(k.work.Site.Room.Datum), k.length(k.heightOf(k.bounds.Min)))
	case math.Abs(y-k.work.Site.Room.Datum) < 0.5:
		return fmt.Sprintf("Draw the datum on the wall with a level, %s above the floor. It is the dash-dot line on the sheets.",
			k.length(k.work.Site.Room.Datum))
	}
	return fmt.Sprintf("Draw the datum on the wall with a level, %s above the floor. It is the dash-dot line on the sheets; it runs %s above the foot of this face.",
		k.length(k.work.Site.Room.Datum), k.length(y))
}

func (k *keyPage) sheets() block {
	var items []item
	for _, f := range k.faces {
		printed, lead := f.printed(), ""
		text := fmt.Sprintf("%s of %s, for %s and %s.",
			count(printed, "sheet", "sheets"), f.paperWords(k.print.Paper), count(len(f.pieces), "piece", "pieces"), count(len(f.holes), "hole", "holes"))
		if len(k.faces) > 1 {
			lead = fmt.Sprintf("%d-", f.number)
			text = joined(" ", f.sideName()+": "+text, f.stance())
		}
		if k.print.Auto && f.cut.Landscape {
			text += " They are printed landscape."
		}
		text = joined(" ", text, f.cut.words())
		if out := len(f.tiles) - printed; out > 0 {
			text += fmt.Sprintf(" %s left out, hatched above, for want of holes.", count(out, "sheet is", "sheets are"))
		}
		items = append(items, item{lead, text})
	}
	if m := k.print.Measured; m.known() {
		items = append(items, item{"!", m.words() + ": the sheets are true on that printer alone."})
	}
	return block{heading: "Sheets", items: items}
}

// paperWords names the paper, and how much of a roll the sheets take.
func (k *keyFace) paperWords(p Paper) string {
	if !p.Roll {
		return p.Name
	}
	long := 0.0
	for _, t := range k.tiles {
		if len(t.Holes) > 0 {
			long += t.Sheet.Width * t.Sheet.Height / p.Width
		}
	}
	return fmt.Sprintf("%s, %s long together", p.Name, k.length(math.Ceil(long)))
}

// drilling lists the holes by bit, depth and fixing.
func (k *keyPage) drilling() block {
	all := k.whole()
	return block{heading: "Holes", items: all.holeItems(all.drillLetters())}
}

// A drillKind is one way to make a hole.
type drillKind struct {
	bit, depth float64
	fixing     string
}

// drillOf returns how a hole is made.
func drillOf(h holemap.Hole) drillKind { return drillKind{h.Bit, h.Depth, h.Fixing} }

// drillLetters returns a letter for each way to make a hole, where the face has several.
func (v view) drillLetters() map[drillKind]string {
	order, _ := v.drills()
	out := map[drillKind]string{}
	for i, d := range order {
		if len(order) > 1 {
			out[d] = strings.ToLower(rowLetters(i))
		}
	}
	return out
}

// drills counts the holes of the face by bit, depth and fixing, the smallest bit first.
func (v view) drills() ([]drillKind, map[drillKind]int) {
	counts := map[drillKind]int{}
	for _, h := range v.holes {
		counts[drillOf(h)]++
	}
	order := slices.SortedFunc(maps.Keys(counts), func(a, b drillKind) int {
		return cmp.Or(cmp.Compare(a.bit, b.bit), cmp.Compare(a.depth, b.depth), strings.Compare(a.fixing, b.fixing))
	})
	return order, counts
}

// holeItems words the ways to drill, with their letters if there are any.
func (v view) holeItems(letters map[drillKind]string) []item {
	order, counts := v.drills()
	var items []item
	for _, d := range order {
		how := joined(", ", joined(" ", v.drill(d.bit), letters[d]), v.length(d.depth)+" deep", d.fixing)
		items = append(items, item{fmt.Sprint(counts[d]), how})
	}
	return items
}

// cautions lists the cautions for the faces of the page and those for the whole of their wall.
func (k *keyPage) cautions() block {
	v := k.first()
	var all []caution.Caution
	for _, c := range v.work.Map.Cautions {
		ours := slices.ContainsFunc(k.faces, func(f *keyFace) bool { return c.Face == f.face.Name })
		if c.Wall != v.wall.Name || (c.Face != "" && !ours) {
			continue
		}
		// What is said of several faces alike is said once.
		i := slices.IndexFunc(all, func(d caution.Caution) bool { return d.Severity == c.Severity && d.Text == c.Text && d.Face != "" })
		if i < 0 || c.Face == "" {
			all = append(all, c)
			continue
		}
		all[i].Holes += c.Holes
	}
	var items []item
	for _, c := range all {
		of := ""
		if c.Holes > 0 {
			of = fmt.Sprintf(" (%s)", count(c.Holes, "hole", "holes"))
		}
		// Every text ends with how cautions stand; on this page that is said once.
		text := strings.TrimSpace(strings.TrimSuffix(c.Text, caution.Standing))
		items = append(items, item{strings.ToUpper(c.Severity), text + of})
	}
	if len(items) == 0 {
		items = []item{{"", "None of the usual cautions was found to apply. That clears nothing."}}
	}
	items = append(items, item{"", "These are usual cautions, not clearance: local codes and licensed trades decide."})
	return block{heading: "Cautions", items: items}
}

// count returns a number with the right form of its noun.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
