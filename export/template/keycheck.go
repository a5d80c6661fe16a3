package template

import (
	"math"

	"wallshoal/export/sheet"
)

// checkWords says how the check bars are used.
func (k *keyPage) checkWords() string {
	most := "half a millimetre"
	if k.first().Work.Units.Imperial() {
		most = `1/64"`
	}
	text := "Hold a rule against the check bars of a sheet, both ways: 100 mm and 4 in. Where they are out by more than " + most + ", the sheets are not to be used."
	for _, f := range k.faces {
		for _, t := range f.Tiles {
			if len(t.Holes) > 0 && len(sheet.LongBars(math.Max(t.Frame.Width(), t.Frame.Height()))) > 0 {
				return text + " On a sheet longer than 1 m hold a tape along the long bar too, with the paper flat: 1000 mm, and 2000 and 4000 mm where it shows them, may be out by 1 mm and no more. Paper takes up damp and stretches: on such sheets measure every plumb line. Where one is out by more, cut the sheet through beside a plumb line, clear of crosses and of their figures, and hang each length by itself, by its plumb line and the level line. Two people hang a sheet longer than 1.5 m."
			}
		}
	}
	return text
}
