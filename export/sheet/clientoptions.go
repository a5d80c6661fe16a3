package sheet

import "wallshoal/export/draw"

// optionPages draws the options side by side, on as many pages as they take.
func (b *clientBook) optionPages(s SideBySide) error {
	shows := "Options side by side"
	for len(s.Table.Rows) > 0 {
		b.page(shows)
		left, _, err := s.Draw(b.Canvas, b.body)
		if err != nil {
			return err
		}
		s, shows = left, "Options side by side, continued"
	}
	return nil
}

// pagesOf returns how many pages the options take.
func (b clientBook) pagesOf(s SideBySide) (int, error) {
	b.pen = pen{draw.NewRecord()}
	b.number, b.all = 0, 0
	err := b.optionPages(s)
	return b.number, err
}
