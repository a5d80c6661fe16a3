package scope

import "wallshoal/wall/measure"

// near is how close to a cut edge a hole counts as near it, mm, as Sheets has it.
const near = 8

// Sheets says how the hole map of a face is cut into sheets. The plain grid is that of full sheets from
// the top left of the face.
type Sheets struct {
	Wall   string `json:"wall"`
	Face   string `json:"face"`
	Paper  string `json:"paper"`
	Sheets int    `json:"sheets"`
	Saved  int    `json:"saved"` // against the plain grid
	Near   int    `json:"near"`  // holes within 8 mm of an edge along which a sheet is cut
	Round  int    `json:"round"` // of these, holes that the cut goes round
}

// Cut returns s with the sheets of its hole map, in the order of the faces.
func (s Scope) Cut(sheets []Sheets) Scope {
	s.Sheets = sheets
	return s
}

// sheets lists the sheets of the hole map, and their sum.
func (p *page) sheets(s Scope) {
	if len(s.Sheets) == 0 {
		return
	}
	p.heading("The hole map")
	p.line("%s\n", plain(SheetWords(s.Sheets[0].Paper, p.units)))
	p.table(s.SheetTable())
}

// SheetWords says how the sheets of the hole map are counted.
func SheetWords(paper string, units measure.Unit) string {
	return "Sheets of " + paper + " at full size, key pages not counted. Saved is against full sheets in a grid from the top left, and near are holes within " +
		measure.Format(near, units) + " of a cut edge."
}
