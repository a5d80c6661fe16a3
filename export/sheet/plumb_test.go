package sheet_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/template"
	"wallshoal/export/tiling"
	"wallshoal/export/worktest"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// Every sheet can be hung by itself: it says where its black mark belongs from the left end of the face
// and from the datum; its plumb lines stand where they say; and the datum is drawn where it crosses.
func TestSheetsCanBeHungByThemselves(t *testing.T) {
	s := worktest.Site(wall.Wall{Name: "Wall", Outline: plane.Rectangle(plane.Point{}, 6000, 2600), Surface: wall.Brick})
	w := worktest.Work(t, s, worktest.Strewn(t, 6000, 2600, 120).Layout.Pieces)
	stated := regexp.MustCompile(`^plumb, (\d+) mm from the left end(?:, (\d+) mm from the right end)?$`)
	for _, p := range []tiling.Print{worktest.Print("A4"), worktest.Landscape(worktest.Print("A3")), worktest.Auto(worktest.Print("Letter")), {Paper: drafting.Roll(914), Overlap: 12, Margin: 6}} {
		cut := worktest.CutUp(t, w, p)
		r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
		black := worktest.BlackOn(r)
		tiles := cut.Tiles(0)
		lines, words, all, datum := map[string][]float64{}, map[string][]float64{}, map[string]string{}, map[string]float64{}
		levels := map[string]int{}
		for _, m := range r.Marks {
			if len(m.Groups) == 0 || !strings.HasPrefix(m.Groups[0], "sheet ") {
				continue
			}
			name := strings.TrimPrefix(m.Groups[0], "sheet ")
			switch {
			case m.Kind == "text":
				all[name] += " " + m.Text.Say
				if says := stated.FindStringSubmatch(m.Text.Say); says != nil {
					x, err := strconv.ParseFloat(says[1], 64)
					require.NoError(t, err)
					words[name] = append(words[name], x)
					if says[2] != "" {
						right, err := strconv.ParseFloat(says[2], 64)
						require.NoError(t, err)
						assert.InDelta(t, 6000, x+right, 1e-9)
					}
				}
			case m.Kind == "line" && m.Groups[len(m.Groups)-1] == "plumb line":
				assert.Equal(t, m.Points[0].X, m.Points[1].X)
				lines[name] = append(lines[name], m.Points[0].X)
			case m.Kind == "line" && m.Groups[len(m.Groups)-1] == "fine level line":
				levels[name]++
			case m.Kind == "line" && m.Groups[len(m.Groups)-1] == "datum":
				levels[name]++
				datum[name] = m.Points[0].Y
			}
		}
		stood, crossed := 0, 0
		for _, tile := range tiles {
			if len(tile.Holes) == 0 {
				continue
			}
			var drawn []float64
			for _, x := range lines[tile.Name] {
				drawn = append(drawn, tile.ToFace(plane.Point{X: x}).X)
			}
			for _, x := range words[tile.Name] {
				assert.Less(t, worktest.Apart([]float64{x}, drawn), 1e-6, "%s says %g", tile.Name, x)
				stood++
			}
			assert.NotEmpty(t, drawn, "%s has no plumb line", tile.Name)
			assert.Positive(t, levels[tile.Name], "%s has no level line", tile.Name)
			at := tile.ToFace(black[tile.Name][0])
			assert.Contains(t, all[tile.Name], strconv.FormatFloat(at.X, 'f', -1, 64)+" mm from the left end")
			level := s.Room.Datum
			far := strconv.FormatFloat(max(level-at.Y, at.Y-level), 'f', -1, 64)
			assert.Contains(t, all[tile.Name], "datum is "+far+" mm")
			if at.X > 3000 {
				assert.Contains(t, all[tile.Name], strconv.FormatFloat(6000-at.X, 'f', -1, 64)+" mm from the right end")
			}
			if level > tile.Area.Min.Y && level < tile.Area.Max.Y {
				assert.InDelta(t, level, tile.ToFace(plane.Point{Y: datum[tile.Name]}).Y, 1e-6, tile.Name)
				crossed++
			}
		}
		assert.GreaterOrEqual(t, stood, worktest.Printed(tiles)*3/4, "most sheets have a plumb line")
		assert.Positive(t, crossed)
	}
}
