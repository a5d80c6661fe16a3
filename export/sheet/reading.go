package sheet

import "wallshoal/export/draw"

// ReadingSize returns the size of an upright page for what is only read: that of the sheet that the client
// gets.
func ReadingSize(p Paper) draw.Size {
	paper := clientPaper(p)
	return draw.Size{Width: paper.Width, Height: paper.Height}
}
