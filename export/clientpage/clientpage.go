// Package clientpage draws what the client gets to read and to sign.
package clientpage

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/client"
	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/making"
	"wallshoal/export/makinggood"
	"wallshoal/export/optionpage"
	"wallshoal/export/photo"
	"wallshoal/export/roompage"
	"wallshoal/export/tiling"
	"wallshoal/wall/plane"
)

// More is what the client's pages show besides the layout.
type More struct {
	Options optionpage.SideBySide // of the plan, after the room
	Photos  []photo.View          // each after its wall
	Made    making.Making         // says what happens when
}

// DrawWith draws what the client sees: the whole room, and a page for every wall that carries pieces,
// with the wall and the sides of what stands on it to scale, what hangs on them, and how many holes
// each takes; then what is drilled in plain words, what making good takes, what happens when, what the
// site provides, the cautions, and what is to be signed. The error says why the work cannot be drawn.
func DrawWith(c draw.Canvas, w holemap.Work, more More, p tiling.Print) error {
	var walls []*elevation.Development
	var indices []int // of their walls
	for _, i := range elevation.Faces(w.Site) {
		d, err := elevation.Develop(drafting.Pen{Canvas: c}, w, i, true)
		if err != nil {
			return err
		}
		if d.Carries() {
			walls, indices = append(walls, d), append(indices, w.Site.Faces[i].Wall)
		}
	}
	if len(walls) == 0 {
		return elevation.ErrNoPieces
	}
	around, scene, err := roompage.LookAround(w)
	if err != nil {
		return err
	}
	sum, err := client.Of(w, makinggood.UsualIn(w.Units))
	if err != nil {
		return err
	}
	book := clientBook{Pen: drafting.Pen{Canvas: c}, view: around, sum: sum.Dated(more.Made), paper: drafting.ReadingPaper(p.Paper)}
	parts, err := book.optionParts(more.Options)
	if err != nil {
		return err
	}
	book.all = 1 + len(parts) + len(walls) + len(more.Photos) + book.bookPages()
	book.number = 1
	roompage.RoomPage(around, drafting.Pen{Canvas: c}, scene, drafting.ReadingPaper(p.Paper), fmt.Sprintf("page 1 of %d", book.all))
	if err := book.optionPages(parts); err != nil {
		return err
	}
	for i, d := range walls {
		book.number++
		clientPage(drafting.Pen{Canvas: c}, d, drafting.ReadingPaper(p.Paper), book.number, book.all)
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

// clientPage draws one page: title, picture, counts, and a line to sign on.
func clientPage(p drafting.Pen, d *elevation.Development, paper drafting.Paper, number, all int) {
	v := d.All()
	p.Page(paper.Height, paper.Width)
	area := plane.Rect{Max: plane.Point{X: paper.Height, Y: paper.Width}}.Grow(-14)
	roompage.Header(v, p, area, v.Shown())

	// The legend has two columns, and as many rows as the kinds need, within reason; one column where
	// the faces are counted beside it.
	rows := min(9, max(4, (len(v.Tallies())+1)/2))
	if len(d.Views) > 1 {
		faces := int(math.Ceil((countsTop + countsRow*float64(len(d.Views))) / elevation.LegendRow))
		rows = min(9, max(4, len(v.Tallies()), faces))
	}
	countsHeight := 15 + elevation.LegendRow*float64(rows)
	counts := plane.Rect{Min: plane.Point{X: area.Min.X, Y: area.Max.Y - countsHeight}, Max: area.Max}
	d.Fit(plane.Rect{
		Min: plane.Point{X: area.Min.X, Y: area.Min.Y + 17},
		Max: plane.Point{X: area.Max.X, Y: counts.Min.Y - 4},
	})
	d.Draw()
	p.Segment(area.Min.X, counts.Min.Y, area.Max.X, counts.Min.Y, drafting.Thin)
	clientCounts(p, d, counts, number, all)
}

// numbers returns the names of what bears only a number in the picture.
func numbers(p *elevation.Picture) string {
	var out []string
	for i, name := range p.Few {
		out = append(out, fmt.Sprintf("%d %s", i+1, name))
	}
	return strings.Join(out, " · ")
}

// clientCounts draws the counts below the picture: the kinds, the faces where there are several, the
// holes, and a line to sign on.
func clientCounts(p drafting.Pen, d *elevation.Development, area plane.Rect, number, all int) {
	v := d.All()
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
	if len(d.Views) > 1 {
		v.Legend(p, share(0, 0.32))
		clientFaces(p, d, share(0.34, 0.57))
		clientHoles(p, v, share(0.59, 0.8))
	} else {
		v.Legend(p, share(0, 0.5))
		clientHoles(p, v, share(0.5, 0.79))
	}
	for i, name := range []string{"Agreed", "Date"} {
		y := sign.Min.Y + 14 + 12*float64(i)
		p.Segment(sign.Min.X, y, sign.Max.X, y, drafting.Thin)
		p.Say(sign.Min.X, y+3.2, drafting.Least, name, 0, drafting.Style{Colour: drafting.Quiet})
	}
	p.Say(area.Min.X, area.Max.Y, draw.Letter25, numbers(d.Main), area.Width()/2, drafting.Style{})
	note := fmt.Sprintf("%s · lengths in %s · fingerprint %s · page %d of %d",
		drafting.ScaleWords(d.Drawn), v.UnitWord(), v.Work.Map.Fingerprint, number, all)
	p.Say(area.Max.X, area.Max.Y, drafting.Least, note, area.Width()/2-4, drafting.Style{Align: draw.Right, Colour: drafting.Quiet})
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
func clientFaces(p drafting.Pen, d *elevation.Development, area plane.Rect) {
	letters, pitch := draw.Letter25, countsRow
	if len(d.Views) > countLines(area, pitch) {
		letters, pitch = draw.Letter18, closeRow
	}
	pieces := area.Min.X + drafting.TextWidth("Pieces", draw.Letter25, true) // where the figures end
	holes := pieces + 3 + drafting.TextWidth("Holes", draw.Letter25, true)
	names := holes + 3
	heading, right := drafting.Style{Bold: true}, drafting.Style{Bold: true, Align: draw.Right}
	p.Say(pieces, area.Min.Y+2.5, draw.Letter25, "Pieces", 0, right)
	p.Say(holes, area.Min.Y+2.5, draw.Letter25, "Holes", 0, right)
	p.Say(names, area.Min.Y+2.5, draw.Letter25, "On", 0, heading)
	rows := countLines(area, pitch)
	for i, v := range d.Views {
		y := area.Min.Y + countsTop + pitch*float64(i)
		if i == rows-1 && len(d.Views) > rows {
			p.Say(area.Min.X, y, letters, fmt.Sprintf("and %d more faces", len(d.Views)-i), area.Width(), drafting.Style{})
			return
		}
		name := "the wall itself"
		if !v.IsWall() {
			name = v.Face.Name
		}
		p.Say(pieces, y, letters, fmt.Sprint(len(v.Pieces)), 0, right)
		p.Say(holes, y, letters, fmt.Sprint(len(v.Holes)), 0, right)
		p.Say(names, y, letters, name, area.Max.X-names, drafting.Style{})
	}
}

// clientHoles lists the holes by bit and fixing, as many lines as there is room for.
func clientHoles(p drafting.Pen, v elevation.View, area plane.Rect) {
	p.Say(area.Min.X, area.Min.Y+2.5, draw.Letter25, "How the holes are drilled", area.Width(), drafting.Style{Bold: true})
	order, counts := v.Drills()
	said := client.Summary{Units: v.Work.Units}
	indent := drafting.TextWidth("0000", draw.Letter25, true) + 2
	if len(order) == 1 { // their number stands beside the pieces
		indent = 0
	}
	rows, used := countLines(area, countsRow), 0
	for i, d := range order {
		lines := evenly(said.Says(client.Way{Bit: d.Bit, Depth: d.Depth, Fixing: d.Fixing}), draw.Letter25, area.Width()-indent)
		y := area.Min.Y + countsTop + countsRow*float64(used)
		if used+len(lines) > rows || i < len(order)-1 && used+len(lines) == rows {
			p.Say(area.Min.X, y, draw.Letter25, fmt.Sprintf("and %d more ways", len(order)-i), area.Width(), drafting.Style{})
			return
		}
		if indent > 0 {
			p.Say(area.Min.X+indent-2, y, draw.Letter25, fmt.Sprint(counts[d]), 0, drafting.Style{Bold: true, Align: draw.Right})
		}
		for n, line := range lines {
			p.Say(area.Min.X+indent, y+countsRow*float64(n), draw.Letter25, line, 0, drafting.Style{})
		}
		used += len(lines)
	}
}

// evenly breaks text into as few lines as the width allows, of about the same length.
func evenly(text string, height, width float64) []string {
	lines := drafting.Wrapped(text, height, width)
	for w := drafting.TextWidth(text, height, false) / float64(len(lines)); w < width; w += 1 {
		if even := drafting.Wrapped(text, height, w); len(even) <= len(lines) {
			return even
		}
	}
	return lines
}
