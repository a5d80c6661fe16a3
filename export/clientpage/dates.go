package clientpage

import (
	"wallshoal/export/calendar"
	"wallshoal/export/drafting"
	"wallshoal/wall/plane"
)

// datesPage says what happens when, and shows it on a strip of days.
func (b *clientBook) datesPage() {
	d := b.sum.Dates
	if d == nil {
		return
	}
	const shows = "What happens when"
	b.page(shows)
	tall := calendar.StripHeight(d.Bands, d.Marks)
	columns := []column{{"", 3.2, false}, {"As planned", 3, false}}
	if d.Late {
		columns = append(columns, column{"At the latest, to hang in time", 3, false})
	}
	var rows [][]string
	for _, s := range d.Steps {
		rows = append(rows, []string{s.What, s.Planned, s.Latest}[:len(columns)])
	}
	y := b.words(b.body, d.Verdict) + 3
	y = b.table(plane.Rect{Min: plane.Point{X: b.body.Min.X, Y: y}, Max: b.body.Max}, columns, rows, false) + 9
	calendar.Strip(b.Canvas, plane.Rect{Min: plane.Point{X: b.body.Min.X, Y: y}, Max: plane.Point{X: b.body.Max.X, Y: y + tall}}, d.Bands, d.Marks)
	y += tall + 4
	b.Say(b.body.Min.X, y, drafting.Least, "Dark: worked on. Hatched: waited for, while something comes, dries or sets.", 0, drafting.Style{Colour: drafting.Quiet})
	var items []drafting.Item
	for _, n := range d.Notes {
		items = append(items, drafting.Item{Lead: "", Text: n})
	}
	left := plane.Rect{Min: plane.Point{X: b.body.Min.X, Y: y + 5}, Max: b.body.Max}
	left.Max.X = left.Min.X + 0.85*left.Width()
	b.words(left, "How far these days go", items...)
}
