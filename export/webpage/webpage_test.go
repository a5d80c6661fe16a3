package webpage_test

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"wallshoal/export/client"
	"wallshoal/export/holemap"
	"wallshoal/export/makinggood"
	"wallshoal/export/optionpage"
	"wallshoal/export/photo"
	"wallshoal/export/scope"
	"wallshoal/export/webpage"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

const nasty = `</title><script>alert("1")</script><b onload='x'>&amp; {{.Title}}`

// hall is two walls of which one carries pieces on a shelf too, all of it named to break out of a page.
func hall(t *testing.T) holemap.Work {
	t.Helper()
	site, err := wall.Survey(wall.Room{Datum: 1500, Walls: []wall.Wall{
		{Name: nasty, Surface: wall.Plasterboard, Turn: 90, Outline: plane.Rectangle(plane.Point{}, 4000, 2500), Obstructions: []wall.Obstruction{
			{Kind: wall.Chimney, Name: nasty, Shape: plane.Rectangle(plane.Point{X: 2800}, 800, 1200), Depth: 300, Use: []wall.Side{wall.Front}},
		}},
		{Name: "Far wall", Surface: wall.Brick, Outline: plane.Rectangle(plane.Point{}, 3000, 2500)},
	}})
	require.NoError(t, err)
	w := holemap.Work{Title: nasty, For: nasty, Place: nasty, By: nasty, Site: site, Kinds: []scatter.Kind{{
		Name: nasty, Code: "A", Weight: 25, Combustible: true, Outline: plane.Rectangle(plane.Point{X: -20, Y: -20}, 40, 40),
		Holes: []scatter.Hole{{Bit: 5, Depth: 30, Fixing: nasty}},
	}}}
	for face := range site.Faces {
		for i := range 3 + face {
			w.Layout.Pieces = append(w.Layout.Pieces, scatter.Piece{ID: len(w.Layout.Pieces) + 1, Face: face, At: plane.Point{X: 100 + 100*float64(i), Y: 600}})
		}
	}
	w.Map, err = holemap.Make(site, w.Kinds, w.Layout)
	require.NoError(t, err)
	return w
}

func written(t *testing.T, w holemap.Work, photos ...photo.View) []byte {
	t.Helper()
	s, err := client.Of(w, makinggood.Usual())
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, webpage.Write(&out, w, s, photos, optionpage.SideBySide{}))
	return out.Bytes()
}

// seen is a photo of the second wall.
func seen(t *testing.T) photo.View {
	t.Helper()
	var data bytes.Buffer
	require.NoError(t, png.Encode(&data, image.NewGray(image.Rect(0, 0, 300, 250))))
	p, err := photo.Decode(data.Bytes())
	require.NoError(t, err)
	v, faults := photo.New(1, nasty, p, []photo.Point{
		{Pixel: plane.Point{Y: 250}}, {Pixel: plane.Point{X: 300, Y: 250}, At: plane.Point{X: 3000}},
		{Pixel: plane.Point{X: 300}, At: plane.Point{X: 3000, Y: 2500}}, {At: plane.Point{Y: 2500}},
	})
	require.Empty(t, faults)
	return v
}

// each visits every element of a page.
func each(n *html.Node, visit func(*html.Node)) {
	if n.Type == html.ElementNode {
		visit(n)
	}
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		each(c, visit)
	}
}

func attribute(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

// words returns what an element says.
func words(n *html.Node) string {
	if n.Type == html.TextNode {
		return n.Data
	}
	var b strings.Builder
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		b.WriteString(words(c))
	}
	return b.String()
}

// The page loads nothing, runs nothing, has one first heading and a language, and no id twice; every
// picture and box has a name, and every link leads somewhere. No name in a plan becomes markup.
func TestThePageStandsAlone(t *testing.T) {
	data := written(t, hall(t), seen(t))
	doc, err := html.Parse(bytes.NewReader(data))
	require.NoError(t, err)
	ids, links, tags := map[string]int{}, []string{}, map[string]int{}
	each(doc, func(n *html.Node) {
		tags[n.Data]++
		if id := attribute(n, "id"); id != "" {
			ids[id]++
		}
		for _, a := range n.Attr {
			assert.False(t, strings.HasPrefix(a.Key, "on"), "%s of %s", a.Key, n.Data)
			if a.Key == "href" || a.Key == "src" {
				if ref, is := strings.CutPrefix(a.Val, "#"); is {
					links = append(links, ref)
				} else {
					assert.True(t, strings.HasPrefix(a.Val, "data:image/"), a.Val)
				}
			}
			if ref, is := strings.CutPrefix(a.Val, "url(#"); is {
				links = append(links, strings.TrimSuffix(ref, ")"))
			}
		}
		switch n.Data {
		case "html":
			assert.Equal(t, "en", attribute(n, "lang"))
		case "svg", "input":
			assert.NotEmpty(t, attribute(n, "aria-label"), n.Data)
		}
	})
	for id, n := range ids {
		assert.Equal(t, 1, n, "id %s", id)
	}
	assert.NotEmpty(t, links)
	for _, to := range links {
		assert.Equal(t, 1, ids[to], "link to %s", to)
	}
	assert.Equal(t, 1, tags["h1"])
	assert.Equal(t, 4, tags["svg"], "the room, two walls and a photo")
	assert.Equal(t, 1, tags["image"])
	for _, tag := range []string{"script", "link", "iframe", "object", "embed", "img", "b", "form"} {
		assert.Zero(t, tags[tag], tag)
	}
	assert.NotContains(t, string(data), "ZgotmplZ", "what the template found unsafe")
	assert.NotContains(t, string(data), "@import")
	each(doc, func(n *html.Node) {
		if n.Data == "h1" {
			assert.Equal(t, nasty, words(n))
		}
	})
}

// Pieces and holes are those of the scope, in all and on each wall.
func TestTheFiguresAreThoseOfTheScope(t *testing.T) {
	w := hall(t)
	s, err := scope.Of(w)
	require.NoError(t, err)
	want := map[string][2]int{}
	for _, f := range s.Faces {
		sum := want[f.Wall]
		want[f.Wall] = [2]int{sum[0] + f.Pieces, sum[1] + f.Holes}
	}
	want["All"] = [2]int{s.Pieces, s.Holes}
	doc, err := html.Parse(bytes.NewReader(written(t, w)))
	require.NoError(t, err)
	got := map[string][2]int{}
	each(doc, func(n *html.Node) {
		if n.Data != "section" || attribute(n, "aria-labelledby") != "agree" {
			return
		}
		each(n, func(row *html.Node) {
			if row.Data != "tr" || row.Parent.Data == "thead" {
				return
			}
			var cells []string
			for c := row.FirstChild; c != nil; c = c.NextSibling {
				if c.Type == html.ElementNode {
					cells = append(cells, words(c))
				}
			}
			var pieces, holes int
			_, err := fmt.Sscan(cells[1]+" "+cells[2], &pieces, &holes)
			require.NoError(t, err)
			got[cells[0]] = [2]int{pieces, holes}
		})
	})
	assert.Equal(t, want, got)
	assert.Contains(t, words(doc), fmt.Sprintf("Up to %d holes", s.Holes))
	assert.Contains(t, words(doc), s.Fingerprint)
}

// Every option has a picture and a column, and nothing of their names becomes markup.
func TestTheOptionsStandOnThePage(t *testing.T) {
	w := hall(t)
	counted, err := scope.Of(w)
	require.NoError(t, err)
	counted = counted.Beside([]scope.Option{scope.OptionOf(nasty, nil, w, counted), scope.OptionOf("full", []string{nasty}, w, counted)})
	side := optionpage.Options(counted, []holemap.Work{w, w})
	s, err := client.Of(w, makinggood.Usual())
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, webpage.Write(&out, w, s, nil, side))
	doc, err := html.Parse(&out)
	require.NoError(t, err)
	pictures, ids := 0, map[string]int{}
	var said []string
	each(doc, func(n *html.Node) {
		ids[attribute(n, "id")]++
		if n.Data != "section" || attribute(n, "aria-labelledby") != "options" {
			return
		}
		each(n, func(in *html.Node) {
			switch in.Data {
			case "svg":
				pictures++
			case "th", "td", "figcaption":
				said = append(said, words(in))
			case "script", "b":
				t.Errorf("a name became %s", in.Data)
			}
		})
	})
	assert.Equal(t, 2, pictures)
	for id, n := range ids {
		assert.True(t, n == 1 || id == "", "id %s", id)
	}
	for _, want := range []string{nasty + " (as planned) the plan as it is written", "full " + nasty, "Pieces", fmt.Sprint(counted.Holes)} {
		assert.Contains(t, said, want)
	}
}

func TestTheSameWorkGivesTheSamePage(t *testing.T) {
	w := hall(t)
	assert.True(t, bytes.Equal(written(t, w), written(t, w)))
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("the disk is full") }

func TestAFullDiskIsSaid(t *testing.T) {
	w := hall(t)
	s, err := client.Of(w, makinggood.Usual())
	require.NoError(t, err)
	assert.ErrorContains(t, webpage.Write(full{}, w, s, nil, optionpage.SideBySide{}), "the disk is full")
}

// A parser of HTML that is not ours finds no fault but that it does not know the elements of HTML 5.
func TestXmllintReadsThePage(t *testing.T) {
	if _, err := exec.LookPath("xmllint"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("xmllint is not installed")
		}
		t.Skip("xmllint is not installed")
	}
	path := filepath.Join(t.TempDir(), "client.html")
	require.NoError(t, os.WriteFile(path, written(t, hall(t)), 0o644))
	out, _ := exec.Command("xmllint", "--html", "--noout", path).CombinedOutput()
	for line := range strings.Lines(string(out)) {
		if strings.Contains(line, "error :") {
			assert.Regexp(t, `Tag \S+ invalid`, line)
		}
	}
}
