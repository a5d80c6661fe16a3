// Package sheet draws the pages: elevations, the hole map's key pages and full-size tiles, and
// what the client sees.
package sheet

// A Paper is a sheet of paper by name, upright: Width ≤ Height, in mm.
type Paper struct {
	Name          string
	Width, Height float64
}

// A Print is how the hole map is to be printed.
type Print struct {
	Paper     Paper
	Landscape bool
	Overlap   float64 // how much neighbouring tiles share, mm
	Margin    float64 // what the printer cannot reach at each edge of the sheet, mm
}
