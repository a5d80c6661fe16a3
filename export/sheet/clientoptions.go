package sheet

import "wallshoal/export/draw"

// optionPages draws the options side by side, and leaves the pages that they take counted.
func (b *clientBook) optionPages(parts []Part) error {
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
func (b *clientBook) optionParts(s SideBySide) ([]Part, error) {
	probe := *b
	probe.pen = pen{draw.NewRecord()}
	probe.page("")
	return s.Parts(probe.body.Width(), probe.body.Height())
}
