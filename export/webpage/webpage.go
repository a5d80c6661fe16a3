// Package webpage writes what the client sees as one page of HTML that needs nothing else: no script, no
// other file, no network.
package webpage

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"

	"wallshoal/export/calendar"
	"wallshoal/export/caution"
	"wallshoal/export/client"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/number"
	"wallshoal/export/optionpage"
	"wallshoal/export/photo"
	"wallshoal/export/roompage"
	"wallshoal/wall/plane"
)

//go:embed page.html
var layout string

// A figure is one picture with what it shows.
type figure struct {
	SVG     template.HTML
	Caption string
}

// A section is what the page shows of one wall.
type section struct {
	client.Wall
	Figures []figure
}

// A page is what the template is filled with.
type page struct {
	client.Summary
	Room     figure
	Options  *options // nil where the plan has none
	Sections []section
	Strip    figure // of days, where the summary has them
	Groups   []group
	Ticked   string
	Advice   string
	Standing string
}

// options are the options of the plan side by side.
type options struct {
	optionpage.SideBySide
	Figures []figure
}

// A group is the cautions of one severity.
type group struct {
	Heading  string
	Cautions []client.Caution
}

// Write writes the page, with the photos of its walls and the options of its plan, and returns the first
// error: why the work cannot be drawn, or the writer's. The same work gives the same bytes.
func Write(out io.Writer, w holemap.Work, s client.Summary, photos []photo.View, side optionpage.SideBySide) error {
	p := page{Summary: s, Ticked: client.Ticked, Advice: client.Advice, Standing: client.Standing}
	var err error
	p.Room, err = draws(s, "The room", "room", "The whole room as somebody sees it who stands there, and from above.", func(c draw.Canvas) error { return roompage.Draw(c, w) })
	if err != nil {
		return err
	}
	if len(side.Works) > 0 {
		p.Options = &options{SideBySide: side}
		for i, name := range side.Table.Heads[1:] {
			f, err := draws(s, name, fmt.Sprintf("o%d", i), side.Says[i], func(c draw.Canvas) error { return optionpage.OptionPicture(c, side.Works, i) })
			if err != nil {
				return err
			}
			p.Options.Figures = append(p.Options.Figures, f)
		}
	}
	for _, wall := range s.Walls {
		one := section{Wall: wall}
		for _, i := range elevation.Faces(w.Site) {
			if w.Site.Faces[i].Wall != wall.Index {
				continue
			}
			caption := fmt.Sprintf("%s to scale, with dimensions: %s, %s.", wall.Name, number.Count(wall.Pieces, "piece", "pieces"), number.Count(wall.Holes, "hole", "holes"))
			f, err := draws(s, wall.Name, fmt.Sprintf("f%d", i), caption, func(c draw.Canvas) error { return elevation.Draw(c, w, i) })
			if err != nil {
				return err
			}
			one.Figures = append(one.Figures, f)
		}
		for i, v := range photos {
			if v.Wall != wall.Index {
				continue
			}
			f, err := draws(s, wall.Name+", photo", fmt.Sprintf("p%d", i), wall.Name+", its pieces over a photo of it.", func(c draw.Canvas) error {
				return photo.Page(c, w, v, photoSize(v))
			})
			if err != nil {
				return err
			}
			one.Figures = append(one.Figures, f)
		}
		p.Sections = append(p.Sections, one)
	}
	if s.Dates != nil {
		p.Strip, err = draws(s, "days", "days", "Dark: worked on. Hatched: waited for, while something comes, dries or sets.", func(c draw.Canvas) error {
			const width, edge = 230.0, 2.0
			tall := calendar.StripHeight(s.Dates.Bands, s.Dates.Marks)
			c.Page(width, tall+2*edge)
			calendar.Strip(c, plane.Rect{Min: plane.Point{X: edge, Y: edge}, Max: plane.Point{X: width - edge, Y: edge + tall}}, s.Dates.Bands, s.Dates.Marks)
			return nil
		})
		if err != nil {
			return err
		}
	}
	for _, part := range []struct{ severity, heading string }{
		{caution.Stop, "Stop: not to be hung like this"},
		{caution.Ask, "To be found out before the first hole"},
		{caution.Note, "To be kept in mind at work"},
	} {
		g := group{Heading: part.heading}
		for _, c := range s.Cautions {
			if c.Severity == part.severity {
				g.Cautions = append(g.Cautions, c)
			}
		}
		if len(g.Cautions) > 0 {
			p.Groups = append(p.Groups, g)
		}
	}
	t, err := template.New("page").Funcs(template.FuncMap{"count": number.Count, "whole": number.Whole, "next": func(i int) int { return i + 1 }}).Parse(layout)
	if err != nil {
		return fmt.Errorf("reading the layout of the page: %w", err)
	}
	if err := t.Execute(out, p); err != nil {
		return fmt.Errorf("writing the page: %w", err)
	}
	return nil
}

// photoSize returns a page of the shape of A4, whichever way round the photo is, in mm.
func photoSize(v photo.View) draw.Size {
	if v.Picture.Height > v.Picture.Width {
		return draw.Size{Width: 210, Height: 297}
	}
	return draw.Size{Width: 297, Height: 210}
}

// draws returns a picture, with ids of its own.
func draws(s client.Summary, subject, ids, caption string, picture func(draw.Canvas) error) (figure, error) {
	var out bytes.Buffer
	c := draw.NewInlineSVG(&out, draw.About{Title: s.Title, Subject: subject}, ids)
	if err := picture(c); err != nil {
		return figure{}, err
	}
	if err := c.Close(); err != nil {
		return figure{}, err
	}
	// The canvas escapes every text and writes every number itself.
	return figure{template.HTML(out.String()), caption}, nil
}
