package draw_test

import (
	"bytes"
	"encoding/xml"
	"io"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/worktest"
	"wallshoal/wall/plane"
)

// asScreen draws a picture for a screen.
func asScreen(t *testing.T, picture func(draw.Canvas)) string {
	t.Helper()
	var out bytes.Buffer
	s := draw.NewScreenSVG(&out, draw.About{Title: "A wall <1>", Subject: "its tiles"})
	picture(s)
	require.NoError(t, s.Close())
	return out.String()
}

// linesOf reads the polygonal lines of path data made of M, m, l, z and numbers alone.
func linesOf(t *testing.T, data string) [][]plane.Point {
	t.Helper()
	for _, c := range "Mmlz" {
		data = strings.ReplaceAll(data, string(c), " "+string(c)+" ")
	}
	data = strings.ReplaceAll(data, "-", " -")
	var out [][]plane.Point
	var at plane.Point
	word, letter := strings.Fields(data), ""
	for i := 0; i < len(word); {
		switch word[i] {
		case "M", "m", "l":
			letter = word[i]
			i++
			continue
		case "z":
			at = out[len(out)-1][0]
			i++
			continue
		}
		x, err := strconv.ParseFloat(word[i], 64)
		require.NoError(t, err)
		y, err := strconv.ParseFloat(word[i+1], 64)
		require.NoError(t, err)
		i += 2
		if at = at.Add(plane.Point{X: x, Y: y}); letter == "M" {
			at = plane.Point{X: x, Y: y}
		}
		if letter != "l" {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], at)
		letter = "l"
	}
	return out
}

// pathsOf returns the polygonal lines of a document, and how many elements of each name it has.
func pathsOf(t *testing.T, page string) (lines [][]plane.Point, elements map[string]int) {
	t.Helper()
	elements = map[string]int{}
	d := xml.NewDecoder(strings.NewReader(page))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return lines, elements
		}
		require.NoError(t, err)
		if e, is := token.(xml.StartElement); is {
			elements[e.Name.Local]++
			for _, a := range e.Attr {
				if a.Name.Local == "d" {
					lines = append(lines, linesOf(t, a.Value)...)
				}
			}
		}
	}
}

func TestScreenSVGPutsShapesWhereARecordHasThem(t *testing.T) {
	record := draw.NewRecord()
	picture(record)
	drawn, _ := pathsOf(t, asScreen(t, picture))
	near := func(want []plane.Point) bool {
		for _, line := range drawn {
			same := len(line) == len(want)
			for i := 0; same && i < len(want); i++ {
				same = line[i].Distance(want[i]) < 0.08
			}
			if same {
				return true
			}
		}
		return false
	}
	shapes := 0
	for _, m := range record.Marks {
		if m.Kind == "line" || m.Kind == "polyline" {
			shapes++
			assert.True(t, near(m.Points), "no line %v", m.Points)
		}
		for _, r := range m.Rings {
			shapes++
			assert.True(t, near(r), "no ring %v", r)
		}
	}
	assert.Greater(t, shapes, 10)
}

// What is drawn after long runs of steps is as true as what is drawn first: steps are between rounded places.
func TestScreenSVGKeepsNoErrors(t *testing.T) {
	var want []plane.Point
	for i := range 5000 {
		want = append(want, plane.Point{X: float64(i) * 0.1377, Y: float64(i%7) * 0.3333})
	}
	drawn, _ := pathsOf(t, asScreen(t, func(c draw.Canvas) {
		c.Page(1000, 10)
		c.Polyline(want, draw.Stroke{Width: 1})
	}))
	require.Len(t, drawn, 1)
	assert.Less(t, drawn[0][len(drawn[0])-1].Distance(want[len(want)-1]), 0.08)
}

func TestScreenSVGSaysOnceWhatMarksShare(t *testing.T) {
	page := asScreen(t, func(c draw.Canvas) {
		c.Page(100, 50)
		for i := range 40 {
			c.Group("hole")
			c.Line(plane.Point{X: float64(i)}, plane.Point{X: float64(i), Y: 5}, draw.Stroke{Width: 0.2})
			c.End()
		}
		for i := range 40 {
			c.Text(draw.Text{At: plane.Point{X: float64(i)}, Say: "12", Height: 2})
		}
	})
	_, elements := pathsOf(t, page)
	assert.Equal(t, 1, elements["path"])
	assert.Equal(t, 40, elements["text"])
	assert.Equal(t, 1, strings.Count(page, "font-size"))
	assert.Zero(t, elements["rect"], "nothing is under it")
	assert.Contains(t, page, `viewBox="0 0 100 50" width="100" height="50"`)
	assert.Contains(t, page, "<title>A wall &lt;1&gt;: its tiles</title>")
}

// A mark of another look ends the run, so that what is drawn later still covers what was drawn before.
func TestScreenSVGKeepsTheOrder(t *testing.T) {
	square := []plane.Ring{plane.Rectangle(plane.Point{}, 10, 10)}
	page := asScreen(t, func(c draw.Canvas) {
		c.Page(100, 50)
		c.Line(plane.Point{}, plane.Point{X: 9}, draw.Stroke{Width: 1})
		c.Polygon(square, draw.Paint{Fill: draw.Solid(draw.White)})
		c.Line(plane.Point{}, plane.Point{X: 8}, draw.Stroke{Width: 1})
	})
	assert.Less(t, strings.Index(page, "9 0"), strings.Index(page, "#ffffff"))
	assert.Less(t, strings.Index(page, "#ffffff"), strings.Index(page, "8 0"))
}

func TestScreenSVGStandsBeforeOutsideJudges(t *testing.T) {
	worktest.Judge(t, "s.svg", []byte(asScreen(t, picture)), "xmllint", "--noout", "FILE")
}

func TestScreenSVGTellsFaults(t *testing.T) {
	s := draw.NewScreenSVG(io.Discard, draw.About{})
	s.Page(10, 10)
	s.Page(10, 10)
	assert.ErrorContains(t, s.Close(), "one page only")
	s = draw.NewScreenSVG(io.Discard, draw.About{})
	s.Page(10, 10)
	s.Clip(plane.Rectangle(plane.Point{}, 1, 1))
	assert.ErrorContains(t, s.Close(), "open")
}
