package elevation_test

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/template"
	"wallshoal/export/worktest"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// On a wall up a stair the datum ends in the stair: every sheet counts from a level line that lies on
// the wall above or below its mark, as the key says to draw it, and the sheets and the key show it.
func TestSheetsCountFromALevelLineThatIsThere(t *testing.T) {
	outline := plane.Ring{{}, {X: 1200}, {X: 4500, Y: 2160}, {X: 6000, Y: 2160}, {X: 6000, Y: 4760}, {X: 4300, Y: 4760}, {X: 900, Y: 2600}, {Y: 2600}}
	s := worktest.Site(
		wall.Wall{Name: "Stair wall", Outline: outline, Surface: wall.Brick, Margin: 50, Turn: 90},
		wall.Wall{Name: "Landing wall", Outline: plane.Rectangle(plane.Point{Y: 2160}, 1500, 2600), Surface: wall.Brick, Margin: 50},
	)
	w := worktest.Work(t, s, worktest.StrewFaces(s, 150))
	p := worktest.Print("A4")
	cut := worktest.CutUp(t, w, p)
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
	black := worktest.BlackOn(r)
	stated := regexp.MustCompile(`(datum|level \d+) is (\d+) mm (above|below) it`)
	says, drawn, key := map[string][]string{}, map[string][]float64{}, ""
	for _, m := range r.Marks {
		switch {
		case m.Kind == "text" && len(m.Groups) == 0:
			key += " " + m.Text.Say
		case len(m.Groups) == 0 || !strings.HasPrefix(m.Groups[0], "sheet "):
		case m.Kind == "text":
			if found := stated.FindStringSubmatch(m.Text.Say); found != nil {
				says[strings.TrimPrefix(m.Groups[0], "sheet ")] = found
			}
		case m.Kind == "line" && m.Groups[len(m.Groups)-1] == "datum":
			drawn[strings.TrimPrefix(m.Groups[0], "sheet ")] = append(drawn[strings.TrimPrefix(m.Groups[0], "sheet ")], m.Points[0].Y)
		}
	}
	used, crossed := map[string]int{}, 0
	for face, f := range s.Faces {
		tiles := cut.Tiles(face)
		for _, tile := range tiles {
			if len(tile.Holes) == 0 {
				continue
			}
			require.Len(t, says[tile.Name], 4, tile.Name)
			name, at := says[tile.Name][1], tile.ToFace(black[tile.Name][0])
			off, err := strconv.ParseFloat(says[tile.Name][2], 64)
			require.NoError(t, err)
			if says[tile.Name][3] == "below" {
				off = -off
			}
			y := at.Y + off
			if name == "datum" {
				assert.InDelta(t, s.Room.Datum, y+f.Frame.Origin.Z, 1e-6, tile.Name)
			} else {
				assert.Contains(t, key, "LEVEL "+strings.TrimPrefix(name, "level "))
				assert.Contains(t, name, strconv.FormatFloat(y+f.Frame.Origin.Z, 'f', -1, 64))
			}
			assert.True(t, f.Outline.Distance(plane.Point{X: at.X, Y: y}) > -1, "%s counts from %s, which is not on the wall at %v", tile.Name, name, at)
			used[name]++
			if y > tile.Area.Min.Y && y < tile.Area.Max.Y {
				crossed++
				assert.True(t, worktest.Apart([]float64{y}, func() (ys []float64) {
					for _, d := range drawn[tile.Name] {
						ys = append(ys, tile.ToFace(plane.Point{Y: d}).Y)
					}
					return ys
				}()) < 1e-6, "%s shows %s", tile.Name, name)
			}
		}
	}
	assert.GreaterOrEqual(t, len(used), 2, "%v", used)
	assert.Positive(t, crossed)
	assert.Contains(t, key, "does not reach all of this face")
	assert.Contains(t, key, "above the foot of this wall")
	for _, m := range r.Marks {
		if m.Kind == "text" {
			assert.NotContains(t, m.Text.Say, "plan's 0", "nobody on site sees that")
		}
	}
}

// A sheet has a line along the face where it is seen, not only where the next one covers it; and whatever on it
// counts from a line counts from the same.
func TestSheetsCountFromOneLineAndShowOne(t *testing.T) {
	t.Parallel()
	from := regexp.MustCompile(`^level, .* (?:above|below) the (datum|level \S+)$`)
	counts := regexp.MustCompile(`(datum|level \S+) is .* (?:above|below) it`)
	both := 0
	for name, j := range worktest.Jointed(t) {
		r := j.Hung
		lines, counted, fine := map[string][]float64{}, map[string]string{}, map[string]string{}
		for _, m := range r.Marks {
			if len(m.Groups) == 0 {
				continue
			}
			on := strings.TrimPrefix(m.Groups[0], "sheet ")
			group := m.Groups[len(m.Groups)-1]
			switch {
			case m.Kind == "line" && (group == "datum" || group == "fine level line"):
				lines[on] = append(lines[on], m.Points[0].Y)
			case m.Kind == "text" && from.MatchString(m.Text.Say):
				fine[on] = from.FindStringSubmatch(m.Text.Say)[1]
			case m.Kind == "text" && counts.MatchString(m.Text.Say):
				counted[on] = counts.FindStringSubmatch(m.Text.Say)[1]
			}
		}
		for face := range j.Site.Faces {
			tiles := j.Tiles(face)
			for _, tile := range tiles {
				if len(tile.Holes) == 0 {
					continue
				}
				seen := slices.ContainsFunc(lines[tile.Name], func(y float64) bool {
					at := tile.ToFace(plane.Point{Y: y}).Y
					foot := tile.Cell.Min.Y
					if !worktest.Lands(tile.Below) {
						foot = tile.Area.Min.Y
					}
					return at > foot+1 && at < tile.Cell.Max.Y-1
				})
				assert.True(t, seen || tile.Cell.Height() < 20, "%s: %s shows no line along the face", name, tile.Name)
				if fine[tile.Name] != "" && counted[tile.Name] != "" {
					both++
					assert.Equal(t, counted[tile.Name], fine[tile.Name], "%s: %s counts from two lines", name, tile.Name)
				}
			}
		}
	}
	assert.Greater(t, both, 50)
}
