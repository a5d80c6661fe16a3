package press

import (
	"context"
	"fmt"
	"io"
	"slices"
	"time"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/layoutfile"
	"wallshoal/export/client"
	"wallshoal/export/clientpage"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/folder"
	"wallshoal/export/holemap"
	"wallshoal/export/making"
	"wallshoal/export/makinggood"
	"wallshoal/export/orderpage"
	"wallshoal/export/photo"
	"wallshoal/export/roompage"
	"wallshoal/export/scope"
	"wallshoal/export/stand"
	"wallshoal/export/table"
	"wallshoal/export/template"
	"wallshoal/export/tiling"
	"wallshoal/export/webpage"
	"wallshoal/scatter"
)

// A Press draws and lists one work into the files of a pack, shows how far it is, and gathers what
// could not be drawn as it was asked.
type Press struct {
	Work     holemap.Work
	Print    tiling.Print
	Made     making.Making  // what making it takes
	Pages    map[string]int // drawn, by subject
	Warnings []string

	asked  scatter.Composition
	found  scatter.Appraisal // of the layout of the work
	stands []stand.Stand     // the order in which it is put up
	stamp  time.Time         // when all this was said
	photos []photo.View
	meter  Meter
	cut    tiling.Cut

	options []option // of the plan, once they are laid
}

// A Meter is shown how far the work is.
type Meter interface {
	Begin(label string)
	Step(done, total int) // a total of 0 stands for one that nobody knows yet
	Clear()
}

// Silent is a Meter that shows nothing.
type Silent struct{}

// Begin implements Meter.
func (Silent) Begin(string) {}

// Step implements Meter.
func (Silent) Step(int, int) {}

// Clear implements Meter.
func (Silent) Clear() {}

// HoleMap is the subject of the hole map, and HoleMapFile its file.
const (
	HoleMap     = "hole map"
	HoleMapFile = "hole-map.pdf"
)

// Of returns a press for single drawings of a work.
func Of(w holemap.Work, print tiling.Print, m Meter) *Press {
	return &Press{Work: w, Print: print, meter: m, Pages: map[string]int{}}
}

// New returns a press for all files of a work that j laid, as it is cut. Today is when the work could begin
// where the plan does not say.
func New(ctx context.Context, j job.Job, cut tiling.Cut, today time.Time, m Meter) (*Press, error) {
	w := cut.Work()
	p := Of(w, cut.Print(), m)
	p.cut, p.photos, p.asked, p.stamp = cut, j.Plan.Photos, j.Plan.Composition, w.Date
	if w.Date.IsZero() {
		p.stamp = today
	}
	var err error
	if p.found, err = scatter.Appraise(ctx, j.Site, j.Plan.Kinds, j.Plan.Composition, w.Layout); err != nil {
		return nil, err
	}
	if p.stands, err = stand.Plan(w, j.Plan.Install.Reach); err != nil {
		return nil, err
	}
	p.stands = cut.Rounds(p.stands)
	p.Made, err = j.Making(w, cut.Sheets(), today)
	if p.Made.Work != nil {
		p.stands = stand.Timed(p.stands, w.Kinds, *p.Made.Work)
	}
	return p, err
}

// Files returns the files of the pack in the order in which a person would open them. Once ctx is
// done they are not drawn to their end.
func (p *Press) Files(ctx context.Context) []folder.File {
	list := []folder.File{
		{Name: "client.pdf", Write: p.PDF(ctx, "client sheets", p.client)},
		{Name: "client.html", Write: p.table(func(out io.Writer, w holemap.Work) error {
			s, err := client.Of(w, makinggood.UsualIn(w.Units))
			if err != nil {
				return err
			}
			options, err := p.Options(true)
			if err != nil {
				return err
			}
			return webpage.Write(out, w, s.Dated(p.Made), p.photos, options)
		})},
	}
	list = append(list, p.clientPages()...)
	list = append(list,
		folder.File{Name: HoleMapFile, Write: p.HoleMap(ctx, p.cut)},
		folder.File{Name: "order.pdf", Write: p.Order(ctx, p.cut, p.stands)},
	)
	for n, i := range elevation.Faces(p.Work.Site) {
		name := p.nameOf(i)
		list = append(list, folder.File{
			Name:  fmt.Sprintf("elevation-%02d-%s.svg", n+1, folder.Slug(name)),
			Write: p.SVG(name, func(c draw.Canvas, w holemap.Work) error { return elevation.Draw(c, w, i) }),
		})
	}
	for n, v := range p.photos {
		name := p.Work.Site.Room.Walls[v.Wall].Name
		list = append(list, folder.File{
			Name: fmt.Sprintf("photo-%02d-%s.pdf", n+1, folder.Slug(name)),
			Write: p.PDF(ctx, "photo of "+name, func(c draw.Canvas, w holemap.Work, _ tiling.Print) error {
				return photo.Page(c, w, v, p.photoPage(v))
			}),
		})
	}
	list = append(list,
		folder.File{Name: "room.svg", Write: p.SVG("the room", roompage.Draw)},
		folder.File{Name: "holes.csv", Write: p.table(table.WriteHoles)},
		folder.File{Name: "pieces.csv", Write: p.table(func(w io.Writer, work holemap.Work) error {
			return table.WritePieces(w, work, stand.Of(p.stands))
		})},
	)
	return append(slices.Concat(list, p.MakingFiles(ctx), p.OptionFiles(), p.ScopeFiles(ctx)), folder.File{Name: "layout.yaml", Write: p.table(layoutfile.Write)})
}

// photoPage returns the size of the page for a photo.
func (p *Press) photoPage(v photo.View) draw.Size {
	page := p.page()
	if v.Picture.Height > v.Picture.Width {
		page.Width, page.Height = page.Height, page.Width
	}
	return page
}

// page returns the size of a page for the desk, level: Letter where the plan is in inches or feet, else A4.
func (p *Press) page() draw.Size {
	if p.Work.Units.Imperial() {
		return draw.Size{Width: 279.4, Height: 215.9}
	}
	return draw.Size{Width: 297, Height: 210}
}

// client draws the pages for the client.
func (p *Press) client(c draw.Canvas, w holemap.Work, print tiling.Print) error {
	options, err := p.Options(true)
	if err != nil {
		return err
	}
	return clientpage.DrawWith(c, w, clientpage.More{Options: options, Photos: p.photos, Made: p.Made}, print)
}

// clientPages returns the pages for the client as files of their own. Their number shows only once they are
// drawn; what keeps them from that is told when the first is written. Each is written once, and then let
// go, since those of a large work take much memory.
func (p *Press) clientPages() []folder.File {
	c := draw.NewSVGPages(p.about("for the client"))
	err := p.client(c, p.Work, p.Print)
	var pages [][]byte
	if err == nil {
		pages, err = c.Documents()
	}
	if err != nil {
		return []folder.File{{Name: clientPage(0), Write: func(io.Writer) error { return err }}}
	}
	p.warn(c.Warnings())
	list := make([]folder.File, len(pages))
	for i := range pages {
		list[i] = folder.File{Name: clientPage(i), Write: func(out io.Writer) error {
			_, err := out.Write(pages[i])
			pages[i] = nil
			return err
		}}
	}
	return list
}

// clientPage returns the name of the file of the page with an index.
func clientPage(index int) string { return fmt.Sprintf("client-%02d.svg", index+1) }

// nameOf returns the name of a face: that of its wall, and its own where it is not the wall itself.
func (p *Press) nameOf(face int) string {
	f := p.Work.Site.Faces[face]
	name := p.Work.Site.Room.Walls[f.Wall].Name
	if f.Name != "wall" {
		name += " " + f.Name
	}
	return name
}

func (p *Press) about(subject string) draw.About {
	return draw.About{Title: p.Work.Title, Author: p.Work.By, Subject: subject}
}

// PDF returns how to write a PDF of what sheets draws; subject is what it is about.
func (p *Press) PDF(ctx context.Context, subject string, sheets func(draw.Canvas, holemap.Work, tiling.Print) error) func(io.Writer) error {
	return func(out io.Writer) error {
		p.meter.Begin("pages of the " + subject + " drawn")
		defer p.meter.Clear()
		c := draw.NewPDF(p.about(subject), p.Work.Date)
		canvas := &paged{Canvas: c, meter: p.meter}
		if err := sheets(canvas, p.Work, p.Print); err != nil {
			return err
		}
		p.Pages[subject] = canvas.pages
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		_, err := c.WriteTo(out)
		p.warn(c.Warnings())
		return err
	}
}

// HoleMap returns how to write the hole map of a cut of the work.
func (p *Press) HoleMap(ctx context.Context, cut tiling.Cut) func(io.Writer) error {
	return p.PDF(ctx, HoleMap, func(c draw.Canvas, _ holemap.Work, _ tiling.Print) error { return template.HoleMap(c, cut) })
}

// Order returns how to write the order of work that goes with the hole map of a cut.
func (p *Press) Order(ctx context.Context, cut tiling.Cut, stands []stand.Stand) func(io.Writer) error {
	return p.PDF(ctx, "order of work", func(c draw.Canvas, _ holemap.Work, _ tiling.Print) error { return orderpage.Draw(c, cut, stands) })
}

// A paged canvas shows how many pages it has.
type paged struct {
	draw.Canvas
	meter Meter
	pages int
}

// Page implements draw.Canvas.
func (c *paged) Page(width, height float64) {
	c.Canvas.Page(width, height)
	c.pages++
	c.meter.Step(c.pages, 0)
}

// SVG returns how to write a drawing as SVG.
func (p *Press) SVG(subject string, page func(draw.Canvas, holemap.Work) error) func(io.Writer) error {
	return func(out io.Writer) error {
		c := draw.NewSVG(out, p.about(subject))
		if err := page(c, p.Work); err != nil {
			return err
		}
		p.warn(c.Warnings())
		return c.Close()
	}
}

func (p *Press) table(write func(io.Writer, holemap.Work) error) func(io.Writer) error {
	return func(out io.Writer) error { return write(out, p.Work) }
}

// sheets counts the sheets of the hole map, face by face.
func (p *Press) sheets() []scope.Sheets {
	var out []scope.Sheets
	for _, c := range p.cut.Cuttings() {
		f := p.Work.Site.Faces[c.Face]
		out = append(out, scope.Sheets{
			Wall: p.Work.Site.Room.Walls[f.Wall].Name, Face: f.Name, Paper: p.Print.Paper.Name,
			Sheets: c.Sheets, Saved: c.PlainSheets - c.Sheets, Near: c.Near, Round: c.Around,
		})
	}
	return out
}

// warn keeps warnings that are new.
func (p *Press) warn(warnings []string) {
	for _, w := range warnings {
		if !slices.Contains(p.Warnings, w) {
			p.Warnings = append(p.Warnings, w)
		}
	}
}
