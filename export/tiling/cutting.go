package tiling

import (
	"fmt"

	"wallshoal/export/drafting"
	"wallshoal/export/elevation"
	"wallshoal/wall/measure"
)

// A Cutting is how a face with holes is cut into sheets, and how the plain grid of full sheets from
// its top left would cut it.
type Cutting struct {
	Face      int  // index into the faces of the site
	Landscape bool // how the sheets are printed
	Sheets    int  // with holes
	Near      int  // holes within 8 mm of an edge along which a sheet is cut
	Around    int  // holes that the cut of a sheet goes round, since it would run through their marks

	PlainSheets, PlainNear, PlainAround int // all of this of the plain grid
}

// CuttingOf compares a grid of the face with the plain one.
func CuttingOf(v elevation.View, g grid, p Print) Cutting {
	own, plain := judge(v, g), judge(v, plainGrid(v, p.formats()[0]))
	return Cutting{
		Face: v.Index, Landscape: g.landscape,
		Sheets: own.sheets, Near: own.near, Around: own.cut,
		PlainSheets: plain.sheets, PlainNear: plain.near, PlainAround: plain.cut,
	}
}

// Words says what the cutting gains, and what it leaves.
func (c Cutting) Words(u measure.Unit) string {
	near := measure.Format(SeamAir, u)
	text := ""
	if saved := c.PlainSheets - c.Sheets; saved > 0 {
		text = fmt.Sprintf("Full sheets in a grid from the top left would be %d more.", saved)
	}
	switch {
	case c.Around > 0:
		text = drafting.Joined(" ", text, fmt.Sprintf("%s within %s of a seam; the cut goes round %d of them.", drafting.Count(c.Near, "hole lies", "holes lie"), near, c.Around))
	case c.Near > 0:
		text = drafting.Joined(" ", text, fmt.Sprintf("%s within %s of a seam.", drafting.Count(c.Near, "hole lies", "holes lie"), near))
	}
	return text
}
