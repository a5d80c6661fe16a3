package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"time"

	"wallshoal/cmd/wallshoal/layoutfile"
	"wallshoal/export/client"
	"wallshoal/export/draw"
	"wallshoal/export/folder"
	"wallshoal/export/holemap"
	"wallshoal/export/making"
	"wallshoal/export/makinggood"
	"wallshoal/export/photo"
	"wallshoal/export/scope"
	"wallshoal/export/sheet"
	"wallshoal/export/stand"
	"wallshoal/export/table"
	"wallshoal/export/webpage"
	"wallshoal/scatter"
)

// A press draws and lists one work into the files of a pack, shows how far it is, and gathers what
// could not be drawn as it was asked.
type press struct {
	work     holemap.Work
	asked    scatter.Composition
	found    scatter.Appraisal // of the layout of the work
	print    sheet.Print
	stands   []stand.Stand // the order in which it is put up
	made     making.Making
	stamp    time.Time // when all this was said
	photos   []photo.View
	meter    *meter
	pages    map[string]int // drawn, by subject
	cut      []scope.Sheets // of the hole map, once they are counted
	warnings []string
}

// holeMap is the subject of the hole map.
const holeMap = "hole map"

// files returns the files of the pack in the order in which a person would open them. Once ctx is
// done they are not drawn to their end.
func (p *press) files(ctx context.Context) []folder.File {
	list := []folder.File{
		{Name: "client.pdf", Write: p.pdf(ctx, "client sheets", p.client)},
		{Name: "client.html", Write: p.table(func(out io.Writer, w holemap.Work) error {
			s, err := client.Of(w, makinggood.Usual())
			if err != nil {
				return err
			}
			return webpage.Write(out, w, s, p.photos)
		})},
		{Name: holeMapFile, Write: p.pdf(ctx, holeMap, sheet.HoleMap)},
		{Name: "order.pdf", Write: p.pdf(ctx, "order of work", func(c draw.Canvas, w holemap.Work, print sheet.Print) error {
			return sheet.Order(c, w, p.stands, print)
		})},
	}
	for n, i := range sheet.Elevations(p.work.Site) {
		name := p.nameOf(i)
		list = append(list, folder.File{
			Name:  fmt.Sprintf("elevation-%02d-%s.svg", n+1, folder.Slug(name)),
			Write: p.svg(name, func(c draw.Canvas, w holemap.Work) error { return sheet.Elevation(c, w, i) }),
		})
	}
	for n, v := range p.photos {
		name := p.work.Site.Room.Walls[v.Wall].Name
		list = append(list, folder.File{
			Name: fmt.Sprintf("photo-%02d-%s.pdf", n+1, folder.Slug(name)),
			Write: p.pdf(ctx, "photo of "+name, func(c draw.Canvas, w holemap.Work, _ sheet.Print) error {
				return photo.Page(c, w, v, p.photoPage(v))
			}),
		})
	}
	list = append(list,
		folder.File{Name: "room.svg", Write: p.svg("the room", sheet.Room)},
		folder.File{Name: "holes.csv", Write: p.table(table.WriteHoles)},
		folder.File{Name: "pieces.csv", Write: p.table(func(w io.Writer, work holemap.Work) error {
			return table.WritePieces(w, work, stand.Of(p.stands))
		})},
	)
	return append(slices.Concat(list, p.makingFiles(ctx), p.scopeFiles()), folder.File{Name: "layout.yaml", Write: p.table(layoutfile.Write)})
}

// photoPage returns the size of the page for a photo.
func (p *press) photoPage(v photo.View) draw.Size {
	page := draw.Size{Width: 297, Height: 210}
	if p.work.Units.Imperial() {
		page = draw.Size{Width: 279.4, Height: 215.9}
	}
	if v.Picture.Height > v.Picture.Width {
		page.Width, page.Height = page.Height, page.Width
	}
	return page
}

// client draws the pages for the client, and after them the photo where there is just one: a PDF holds no
// two pictures as wide as one another.
func (p *press) client(c draw.Canvas, w holemap.Work, print sheet.Print) error {
	if err := sheet.Client(c, w, print); err != nil || len(p.photos) != 1 {
		return err
	}
	return photo.Page(c, w, p.photos[0], p.photoPage(p.photos[0]))
}

// nameOf returns the name of a face: that of its wall, and its own where it is not the wall itself.
func (p *press) nameOf(face int) string {
	f := p.work.Site.Faces[face]
	name := p.work.Site.Room.Walls[f.Wall].Name
	if f.Name != "wall" {
		name += " " + f.Name
	}
	return name
}

func (p *press) about(subject string) draw.About {
	return draw.About{Title: p.work.Title, Author: p.work.By, Subject: subject}
}

func (p *press) pdf(ctx context.Context, subject string, sheets func(draw.Canvas, holemap.Work, sheet.Print) error) func(io.Writer) error {
	return func(out io.Writer) error {
		p.meter.begin("pages of the " + subject + " drawn")
		defer p.meter.clear()
		c := draw.NewPDF(p.about(subject), p.work.Date)
		canvas := &paged{Canvas: c, meter: p.meter}
		if err := sheets(canvas, p.work, p.print); err != nil {
			return err
		}
		p.pages[subject] = canvas.pages
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		_, err := c.WriteTo(out)
		p.warn(c.Warnings())
		return err
	}
}

// A paged canvas shows how many pages it has.
type paged struct {
	draw.Canvas
	meter *meter
	pages int
}

// Page implements draw.Canvas.
func (c *paged) Page(width, height float64) {
	c.Canvas.Page(width, height)
	c.pages++
	c.meter.step(c.pages, 0)
}

func (p *press) svg(subject string, page func(draw.Canvas, holemap.Work) error) func(io.Writer) error {
	return func(out io.Writer) error {
		c := draw.NewSVG(out, p.about(subject))
		if err := page(c, p.work); err != nil {
			return err
		}
		p.warn(c.Warnings())
		return c.Close()
	}
}

func (p *press) table(write func(io.Writer, holemap.Work) error) func(io.Writer) error {
	return func(out io.Writer) error { return write(out, p.work) }
}

// sheets counts the sheets of the hole map, face by face, once.
func (p *press) sheets() ([]scope.Sheets, error) {
	if p.cut != nil {
		return p.cut, nil
	}
	cuttings, err := sheet.Cuttings(p.work, p.print)
	if err != nil {
		return nil, err
	}
	for _, c := range cuttings {
		f := p.work.Site.Faces[c.Face]
		p.cut = append(p.cut, scope.Sheets{
			Wall: p.work.Site.Room.Walls[f.Wall].Name, Face: f.Name, Paper: p.print.Paper.Name,
			Sheets: c.Sheets, Saved: c.PlainSheets - c.Sheets, Near: c.Near, Round: c.Around,
		})
	}
	return p.cut, nil
}

// warn keeps warnings that are new.
func (p *press) warn(warnings []string) {
	for _, w := range warnings {
		if !slices.Contains(p.warnings, w) {
			p.warnings = append(p.warnings, w)
		}
	}
}
