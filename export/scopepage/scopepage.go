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

// insertHead is kept free over an insert, for its heading, mm.
const insertHead = 20.0

// An Insert is a section that comes from elsewhere, such as plans side by side. It stands before the
// cautions, all of it on one page.
type Insert struct {
	Heading string
	Height  float64 // that it takes, mm; cut to what a page has
	Draw    func(c draw.Canvas, area plane.Rect)
}

// Room returns how wide an insert is on pages of the given size, and the most that it can be high, mm.
func Room(page draw.Size) (width, height float64) {
	return page.Width - 2*side, page.Height - top - bottom - insertHead
}

// Draw draws the scope of a work on upright pages of the given size, in mm, with what making it takes, of
// which the scope has the figures. It fails where the pages are too small.
func Draw(c draw.Canvas, w holemap.Work, s scope.Scope, m making.Making, page draw.Size, inserts ...Insert) error {
	if !(page.Width >= LeastWidth && page.Height >= LeastHeight) {
		return fmt.Errorf("a scope needs pages of at least %g × %g mm", LeastWidth, LeastHeight)
	}
	count := &book{Canvas: draw.NewRecord(), work: w, scope: s, made: m, size: page}
	count.pages(inserts)
	b := &book{Canvas: c, work: w, scope: s, made: m, size: page, all: count.number}
	b.pages(inserts)
	return nil
}

// pages draws all sections.
func (b *book) pages(inserts []Insert) {
	b.page()
	b.title()
	b.short()
	b.wall()
	b.pieces()
	b.sheets()
	b.stands()
	b.stocks()
	b.materials()
	b.hours()
	b.days()
	b.cost()
	for _, i := range inserts {
		b.insert(i)
	}
	b.cautions()
	b.lie()
	b.ends()
}

func (b *book) insert(i Insert) {
	tall := min(i.Height, b.body.Height()-insertHead)
	b.heading(i.Heading, tall)
	i.Draw(b.Canvas, plane.Rect{Min: plane.Point{X: b.body.Min.X, Y: b.y}, Max: plane.Point{X: b.body.Max.X, Y: b.y + tall}})
	b.y += tall + parting
}
