package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/client"
	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/making"
	"wallshoal/export/makinggood"
	"wallshoal/export/photo"
	"wallshoal/wall/plane"
)

// clientPaper returns the sheet that the client gets, level: Letter where the templates are
// printed on a sheet measured in inches, else A4.
func clientPaper(p Paper) Paper {
	name := "A4"
	if p.inches() {
		name = "Letter"
	}
	out, _ := PaperByName(name)
	return out
}

// More is what the client's pages show besides the layout.
type More struct {
	Options SideBySide    // of the plan, after the room
	Photos  []photo.View  // each after its wall
	Made    making.Making // says what happens when
}

// ClientWith draws what the client sees: the whole room, and a page for every wall that carries pieces,
// with the wall and the sides of what stands on it to scale, what hangs on them, and how many holes
// each takes; then what is drilled in plain words, what making good takes, what happens when, what the
// site provides, the cautions, and what is to be signed. The error says why the work cannot be drawn.
func ClientWith(c draw.Canvas, w holemap.Work, more More, p Print) error {
	var walls []*development
	var indices []int // of their walls
	for _, i := range Elevations(w.Site) {
		d, err := develop(pen{c}, w, i, true)
		if err != nil {
			return err
		}
		if d.carries() {
			walls, indices = append(walls, d), append(indices, w.Site.Faces[i].Wall)
		}
	}
	if len(walls) == 0 {
		return ErrNoPieces
	}
	around, scene, err := lookAround(w)
	if err != nil {
		return err
	}
	sum, err := client.Of(w, makinggood.UsualIn(w.Units))
	if err != nil {
		return err
	}
	book := clientBook{pen: pen{c}, view: around, sum: sum.Dated(more.Made), paper: clientPaper(p.Paper)}
	parts, err := book.optionParts(more.Options)
	if err != nil {
		return err
	}
	book.all = 1 + len(parts) + len(walls) + len(more.Photos) + book.bookPages()
	book.number = 1
	around.roomPage(pen{c}, scene, clientPaper(p.Paper), fmt.Sprintf("page 1 of %d", book.all))
	if err := book.optionPages(parts); err != nil {
		return err
	}
	for i, d := range walls {
		book.number++
		clientPage(pen{c}, d, clientPaper(p.Paper), book.number, book.all)
		if err := book.photos(w, more.Photos, func(wall int) bool { return wall == indices[i] }); err != nil {
			return err
		}
	}
	if err := book.photos(w, more.Photos, func(wall int) bool { return !slices.Contains(indices, wall) }); err != nil {
		return err
	}
	book.pages()
	return nil
}

// photos draws the photos of those walls that are asked for.
func (b *clientBook) photos(w holemap.Work, all []photo.View, of func(wall int) bool) error {
	for _, v := range all {
		if !of(v.Wall) {
			continue
		}
		b.number++
		page := draw.Size{Width: b.paper.Height, Height: b.paper.Width}
		if v.Picture.Height > v.Picture.Width {
			page.Width, page.Height = page.Height, page.Width
		}
		if err := photo.Numbered(b.Canvas, w, v, page, fmt.Sprintf("page %d of %d", b.number, b.all)); err != nil {
			return err
		}
	}
	return nil
}

// carries reports whether any face of the development carries pieces.
func (d *development) carries() bool {
	return slices.ContainsFunc(d.views, func(v view) bool { return v.number > 0 })
}

// clientPage draws one page: title, picture, counts, and a line to sign on.
func clientPage(p pen, d *development, paper Paper, number, all int) {
	v := d.all()
	p.Page(paper.Height, paper.Width)
	area := plane.Rect{Max: plane.Point{X: paper.Height, Y: paper.Width}}.Grow(-14)
	v.header(p, area, v.shown())

	// The legend has two columns, and as many rows as the kinds need, within reason; one column where
	// the faces are counted beside it.
	rows := min(9, max(4, (len(v.tallies())+1)/2))
	if len(d.views) > 1 {
		faces := int(math.Ceil((countsTop + countsRow*float64(len(d.views))) / legendRow))
		rows = min(9, max(4, len(v.tallies()), faces))
	}
	countsHeight := 15 + legendRow*float64(rows)
	counts := plane.Rect{Min: plane.Point{X: area.Min.X, Y: area.Max.Y - countsHeight}, Max: area.Max}
	d.fit(plane.Rect{
		Min: plane.Point{X: area.Min.X, Y: area.Min.Y + 17},
		Max: plane.Point{X: area.Max.X, Y: counts.Min.Y - 4},
	})
	d.draw()
	p.line(area.Min.X, counts.Min.Y, area.Max.X, counts.Min.Y, thin)
	clientCounts(p, d, counts, number, all)
}

// numbers returns the names of what bears only a number in the picture.
func (p *picture) numbers() string {
	var out []string
	for i, name := range p.few {
		out = append(out, fmt.Sprintf("%d %s", i+1, name))
	}
	return strings.Join(out, " · ")
}

// clientCounts draws the counts below the picture: the kinds, the faces where there are several, the
// holes, and a line to sign on.
func clientCounts(p pen, d *development, area plane.Rect, number, all int) {
	v := d.all()
	const foot = 5.0
	body := area
	body.Min.Y += 4
	body.Max.Y -= foot
	share := func(from, to float64) plane.Rect {
		return plane.Rect{
			Min: plane.Point{X: body.Min.X + from*body.Width(), Y: body.Min.Y},
			Max: plane.Point{X: body.Min.X + to*body.Width(), Y: body.Max.Y},
		}
	}
	sign := share(0.82, 1)
	if len(d.views) > 1 {
		v.legend(p, share(0, 0.32))
		clientFaces(p, d, share(0.34, 0.57))
		clientHoles(p, v, share(0.59, 0.8))
	} else {
		v.legend(p, share(0, 0.5))
		clientHoles(p, v, share(0.5, 0.79))
	}
	for i, name := range []string{"Agreed", "Date"} {
		y := sign.Min.Y + 14 + 12*float64(i)
		p.line(sign.Min.X, y, sign.Max.X, y, thin)
		p.say(sign.Min.X, y+3.2, least, name, 0, style{colour: quiet})
	}
	p.say(area.Min.X, area.Max.Y, draw.Letter25, d.main.numbers(), area.Width()/2, style{})
	note := fmt.Sprintf("%s · lengths in %s · fingerprint %s · page %d of %d",
		scaleWords(d.drawn), v.unitWord(), v.work.Map.Fingerprint, number, all)
	p.say(area.Max.X, area.Max.Y, least, note, area.Width()/2-4, style{align: draw.Right, colour: quiet})
}

// The rows of the counts beside the legend, mm.
const (
	countsTop = 8.5 // down to the first line
	countsRow = 4.6
	closeRow  = 3.2 // where there are many
)

// countLines returns how many lines of counts an area has room for under their heading.
func countLines(area plane.Rect, pitch float64) int {
	return int(math.Floor((area.Height() - countsTop + pitch - 0.5) / pitch))
}

// clientFaces counts the pieces and the holes on each face, in two columns, as many lines as there is
// room for.
func clientFaces(p pen, d *development, area plane.Rect) {
	letters, pitch := draw.Letter25, countsRow
	if len(d.views) > countLines(area, pitch) {
		letters, pitch = draw.Letter18, closeRow
	}
	pieces := area.Min.X + wide("Pieces", draw.Letter25, true) // where the figures end
	holes := pieces + 3 + wide("Holes", draw.Letter25, true)
	names := holes + 3
	heading, right := style{bold: true}, style{bold: true, align: draw.Right}
	p.say(pieces, area.Min.Y+2.5, draw.Letter25, "Pieces", 0, right)
	p.say(holes, area.Min.Y+2.5, draw.Letter25, "Holes", 0, right)
	p.say(names, area.Min.Y+2.5, draw.Letter25, "On", 0, heading)
	rows := countLines(area, pitch)
	for i, v := range d.views {
		y := area.Min.Y + countsTop + pitch*float64(i)
		if i == rows-1 && len(d.views) > rows {
			p.say(area.Min.X, y, letters, fmt.Sprintf("and %d more faces", len(d.views)-i), area.Width(), style{})
			return
		}
		name := "the wall itself"
		if !v.isWall() {
			name = v.face.Name
		}
		p.say(pieces, y, letters, fmt.Sprint(len(v.pieces)), 0, right)
		p.say(holes, y, letters, fmt.Sprint(len(v.holes)), 0, right)
		p.say(names, y, letters, name, area.Max.X-names, style{})
	}
}

// clientHoles lists the holes by bit and fixing, as many lines as there is room for.
func clientHoles(p pen, v view, area plane.Rect) {
	p.say(area.Min.X, area.Min.Y+2.5, draw.Letter25, "How the holes are drilled", area.Width(), style{bold: true})
	order, counts := v.drills()
	said := client.Summary{Units: v.work.Units}
	indent := wide("0000", draw.Letter25, true) + 2
	if len(order) == 1 { // their number stands beside the pieces
		indent = 0
	}
	rows, used := countLines(area, countsRow), 0
	for i, d := range order {
		lines := evenly(said.Says(client.Way{Bit: d.bit, Depth: d.depth, Fixing: d.fixing}), draw.Letter25, area.Width()-indent)
		y := area.Min.Y + countsTop + countsRow*float64(used)
		if used+len(lines) > rows || i < len(order)-1 && used+len(lines) == rows {
			p.say(area.Min.X, y, draw.Letter25, fmt.Sprintf("and %d more ways", len(order)-i), area.Width(), style{})
			return
		}
		if indent > 0 {
			p.say(area.Min.X+indent-2, y, draw.Letter25, fmt.Sprint(counts[d]), 0, style{bold: true, align: draw.Right})
		}
		for n, line := range lines {
			p.say(area.Min.X+indent, y+countsRow*float64(n), draw.Letter25, line, 0, style{})
		}
		used += len(lines)
	}
}

// evenly breaks text into as few lines as the width allows, of about the same length.
func evenly(text string, height, width float64) []string {
	lines := wrapped(text, height, width)
	for w := wide(text, height, false) / float64(len(lines)); w < width; w += 1 {
		if even := wrapped(text, height, w); len(even) <= len(lines) {
			return even
		}
	}
	return lines
}
