package drafting

import "wallshoal/export/draw"

// ReadingSize returns the size of an upright page for what is only read: that of the sheet that the client
// gets.
func ReadingSize(p Paper) draw.Size {
	paper := ReadingPaper(p)
	return draw.Size{Width: paper.Width, Height: paper.Height}
}

// ReadingPaper returns the sheet that the client gets, level: Letter where the templates are
// printed on a sheet measured in inches, else A4.
func ReadingPaper(p Paper) Paper {
	name := "A4"
	if p.inches() {
		name = "Letter"
	}
	out, _ := PaperByName(name)
	return out
}
