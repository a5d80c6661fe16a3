package clientpage

import (
	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/optionpage"
)

// optionPages draws the options side by side, and leaves the pages that they take counted.
func (b *clientBook) optionPages(parts []optionpage.Part) error {
	shows := "Options side by side"
	for _, p := range parts {
		b.page(shows)
		if err := p.Draw(b.Canvas, b.body.Min); err != nil {
			return err
		}
		shows = "Options side by side, continued"
	}
	return nil
}

// optionParts divides options over the pages of the client's book.
func (b *clientBook) optionParts(s optionpage.SideBySide) ([]optionpage.Part, error) {
	probe := *b
	probe.Pen = drafting.Pen{Canvas: draw.NewRecord()}
	probe.page("")
	return s.Parts(probe.body.Width(), probe.body.Height())
}
