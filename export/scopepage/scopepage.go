// Package scopepage draws a scope on pages for people: what the walls get, what is to be made, bought and
// paid for, and by when. The figures are those of package scope, in the same words as its page of
// Markdown; nothing is reckoned here.
package scopepage

import (
	"fmt"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/making"
	"wallshoal/export/scope"
	"wallshoal/wall/plane"
)

// The least size of a page, mm.
const (
	LeastWidth  = 180.0
	LeastHeight = 240.0
)

// An Insert is a section that comes from elsewhere, such as plans side by side. It stands before the
// cautions.
type Insert struct {
	Heading string
	Least   float64 // height that its first part takes, mm
	// Draw draws as much as the area has room for, and returns how much of its height that took, and what is
	// left for the next page; nil for nothing.
	Draw func(c draw.Canvas, area plane.Rect) (took float64, left *Insert, err error)
}

// Draw draws the scope of a work on upright pages of the given size, in mm, with what making it takes, of
// which the scope has the figures. It fails where the pages are too small, or an insert does.
func Draw(c draw.Canvas, w holemap.Work, s scope.Scope, m making.Making, page draw.Size, inserts ...Insert) error {
	if !(page.Width >= LeastWidth && page.Height >= LeastHeight) {
		return fmt.Errorf("a scope needs pages of at least %g × %g mm", LeastWidth, LeastHeight)
	}
	count := &book{Canvas: draw.NewRecord(), work: w, scope: s, made: m, size: page}
	if err := count.pages(inserts); err != nil {
		return err
	}
	b := &book{Canvas: c, work: w, scope: s, made: m, size: page, all: count.number}
	return b.pages(inserts)
}

// pages draws all sections.
func (b *book) pages(inserts []Insert) error {
	b.page()
	b.title()
	b.short()
	b.wall()
	b.pieces()
	b.sheets()
	b.stocks()
	b.materials()
	b.hours()
	b.days()
	b.cost()
	for _, i := range inserts {
		if err := b.insert(i); err != nil {
			return err
		}
	}
	b.cautions()
	b.lie()
	b.ends()
	return nil
}

// insert draws a section that comes from elsewhere, page after page.
func (b *book) insert(i Insert) error {
	b.heading(i.Heading, min(i.Least, b.body.Height()-20))
	for {
		took, left, err := i.Draw(b.Canvas, plane.Rect{Min: plane.Point{X: b.body.Min.X, Y: b.y}, Max: b.body.Max})
		if err != nil {
			return err
		}
		b.y += took + parting
		if left == nil {
			return nil
		}
		i = *left
		b.page()
	}
}
