package caution

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/walltest"
)

// agree fails where what is said of the pieces one by one is not what is said of the whole layout.
func agree(t *testing.T, site wall.Site, kinds []scatter.Kind, layout scatter.Layout, limits Limits) (said map[string]int) {
	t.Helper()
	r := Find(site, kinds, layout, limits)
	said = map[string]int{}
	for _, p := range layout.Pieces {
		ofHole := map[int][]string{}
		for _, c := range Of(site, kinds, layout, limits, p.ID) {
			said[c.Code]++
			assert.Equal(t, 1, c.Pieces)
			assert.Len(t, c.At, c.Holes)
			require.True(t, slices.ContainsFunc(r.Cautions, func(whole Caution) bool {
				return whole.Code == c.Code && whole.Severity == c.Severity && whole.Wall == c.Wall && whole.Pieces >= 1
			}), "%s of piece %d", c.Code, p.ID)
			for _, whole := range r.Cautions {
				// What speaks of no other piece says it in the same words.
				alone := whole.Pieces == 1 && c.Code != "height" && c.Code != "platform"
				if alone && whole.Code == c.Code && whole.Wall == c.Wall && whole.Face == c.Face && whole.Holes == c.Holes {
					assert.Equal(t, whole.Text, c.Text)
				}
			}
			if c.Face == "" {
				assert.Equal(t, codeCombustible, c.Code)
				continue
			}
			for _, i := range c.At {
				ofHole[i] = append(ofHole[i], c.Code)
			}
		}
		for i := range kinds[p.Kind].Holes {
			slices.Sort(ofHole[i])
			require.Equal(t, r.OfHole(p.ID, i), slices.Compact(ofHole[i]), "hole %d of piece %d", i, p.ID)
		}
		burnt := slices.ContainsFunc(r.Cautions, func(c Caution) bool {
			return c.Code == codeCombustible && c.Wall == site.Room.Walls[site.Faces[p.Face].Wall].Name
		})
		one := slices.ContainsFunc(Of(site, kinds, layout, limits, p.ID), func(c PieceCaution) bool { return c.Code == codeCombustible })
		require.Equal(t, burnt && kinds[p.Kind].Combustible, one)
	}
	return said
}

// Of each piece of a layout thrown at awkward walls, with kinds that are warned of for all they are, the same is
// said as of the whole.
func TestOneByOneTheSameIsSaidAsOfAll(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 5))
	pair := scatter.Kind{
		Name: "Pair", Code: "A", Outline: plane.Rectangle(plane.Point{X: -90, Y: -20}, 180, 40), Weight: 900, Sharp: true, StandOff: 120, Combustible: true,
		Holes: []scatter.Hole{{At: plane.Point{X: -70}, Bit: 8, Depth: 60, Fixing: "plug"}, {At: plane.Point{X: 70}, Bit: 8, Depth: 30, Fixing: "plug"}},
	}
	pin := plate(60, 30)
	pin.StandOff, pin.Weight = 30, 40
	kinds := []scatter.Kind{pair, pin}
	said := map[string]bool{}
	surfaces := []wall.Surface{wall.Brick, wall.Plasterboard, wall.Concrete, wall.Tile, wall.Glass, wall.Timber}
	for i, w := range walltest.Elevations() {
		w.Surface, w.Turn = surfaces[i%len(surfaces)], 90
		second := wall.Wall{
			Name: "Second", Surface: wall.Brick, Outline: plane.Rectangle(plane.Point{}, 2000, 2600), Thickness: 70,
			Obstructions: []wall.Obstruction{
				{Kind: wall.Switch, Name: "switch", Shape: plane.Rectangle(plane.Point{X: 800, Y: 1100}, 86, 86)},
				{Kind: wall.Radiator, Name: "radiator", Shape: plane.Rectangle(plane.Point{X: 1200, Y: 100}, 600, 500)},
			},
		}
		site, err := wall.Survey(wall.Room{Datum: 1500, Walls: []wall.Wall{w, second}})
		if err != nil {
			continue // too small to have another wall at its end
		}
		var faces []int
		for f := range site.Faces {
			if !site.Faces[f].Outline.Empty() {
				faces = append(faces, f)
			}
		}
		limits := UsualLimits()
		limits.Ladder = 2300
		limits.Keep = scatter.Distances{Spacing: 150 * float64(i%3), Gap: 10 * float64(i%2), Holes: 30 * float64(i%2)}
		limits.CombustibleShare = 0.02 * float64(1+i%2)
		limits.Ratings = []Rating{{Fixing: "plug", Holds: 1000, Factor: 4}}
		limits.Acknowledged = []Acknowledgement{{Code: "height", Reason: "there is a tower", By: "owner"}}
		var layout scatter.Layout
		for id := range 40 {
			f := faces[rng.IntN(len(faces))]
			box := site.Faces[f].Outline.Bounds().Grow(40)
			layout.Pieces = append(layout.Pieces, scatter.Piece{
				ID: 40 - id, Kind: rng.IntN(2), Face: f, Heading: heading.Bearing(rng.IntN(360)),
				At: plane.Point{X: box.Min.X + float64(rng.Float64()*box.Width()), Y: box.Min.Y + float64(rng.Float64()*box.Height())},
			})
		}
		for code := range agree(t, site, kinds, layout, limits) {
			said[code] = true
		}
	}
	for _, code := range []string{
		"anchor-edge", "anchor-spacing", "cable-band", codeCombustible, "crowded", "deep-hole", "deep-in-board", "fixing-load", "glass", "heat",
		"height", "in-tile", "low-piece", "not-free", "off-face", "on-obstruction", CodeOverlap, "platform", "sharp-piece",
	} {
		assert.Contains(t, said, code, "these walls say little without it")
	}
}

// A piece keeps a caution as it moves within it, and gets another one where it comes from something else.
func TestWhatIsTheSameCaution(t *testing.T) {
	zone := func(name string, x float64) wall.Zone {
		return wall.Zone{Code: "heat", Name: name, Shape: rectangle(x, 0, 500, 3000), Strength: wall.Caution, Binds: wall.Pieces, Reason: "it is hot"}
	}
	site := oneWall(4000, 4000, wall.Plaster, zone("stove", 0), zone("pipe", 500))
	kind := plate(60, 30)
	of := func(x, y float64) []PieceCaution {
		return Of(site, []scatter.Kind{kind}, at(plane.Point{X: x, Y: y}), UsualLimits(), 1)
	}
	one := func(x, y float64, code string) PieceCaution {
		all := of(x, y)
		i := slices.IndexFunc(all, func(c PieceCaution) bool { return c.Code == code })
		require.GreaterOrEqual(t, i, 0, code)
		return all[i]
	}
	stove := one(200, 2200, "heat")
	assert.True(t, stove.Same(one(300, 2900, "heat")))
	assert.False(t, stove.Same(one(800, 2200, "heat")), "of another thing")
	assert.True(t, one(200, 2200, "height").Same(one(200, 2300, "height")), "only its figures are others")
	assert.Contains(t, one(200, 2200, "height").Text, "2.20 m", "those of this piece")
	assert.Nil(t, Of(site, []scatter.Kind{kind}, at(), UsualLimits(), 1), "there is no such piece")
}

// Every caution has a heading of a few words, without jargon of the program.
func TestEveryCodeHasAHeading(t *testing.T) {
	for _, code := range Codes() {
		words := Heading(code)
		assert.NotEqual(t, strings.ReplaceAll(code, "-", " "), words, code)
		assert.LessOrEqual(t, utf8.RuneCountInString(words), 32, "%s: it stands in a line on a telephone", code)
		assert.NotContains(t, words, ".")
		assert.Equal(t, strings.ToLower(words), words)
	}
	for code := range headings() {
		assert.Contains(t, Codes(), code)
	}
	site := oneWall(4000, 4000, wall.Plaster, wall.Zone{Code: MarkedCode, Name: "old flue", Shape: rectangle(0, 0, 4000, 4000), Strength: wall.Caution, Binds: wall.Holes, Reason: "soft"})
	all := Of(site, []scatter.Kind{plate(60, 30)}, at(plane.Point{X: 500, Y: 1500}), UsualLimits(), 1)
	require.Len(t, all, 2, "this face is of no use for pieces")
	assert.Equal(t, []string{"marked in the plan: old flue", Heading("not-free")}, []string{all[0].Heading, all[1].Heading})
}

// BenchmarkOf is what is asked for one piece that is dragged among so many.
func BenchmarkOf(b *testing.B) {
	site := oneWall(20000, 3000, wall.Brick)
	for _, n := range []int{300, 2000} {
		rng := rand.New(rand.NewPCG(1, 1))
		var places []plane.Point
		for range n {
			places = append(places, plane.Point{X: float64(rng.Float64() * 20000), Y: float64(rng.Float64() * 3000)})
		}
		layout, kinds, limits := at(places...), []scatter.Kind{plate(60, 30)}, UsualLimits()
		limits.Keep.Spacing = 80
		b.Run(fmt.Sprint("one of ", n), func(b *testing.B) {
			for b.Loop() {
				Of(site, kinds, layout, limits, n/2)
			}
		})
		b.Run(fmt.Sprint("all ", n), func(b *testing.B) {
			for b.Loop() {
				Find(site, kinds, layout, limits)
			}
		})
	}
}
