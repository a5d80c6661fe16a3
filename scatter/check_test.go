package scatter_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/scatter/mixing"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// soundKinds returns two kinds with nothing wrong with them.
func soundKinds() []scatter.Kind {
	hole := func(x, bit float64) scatter.Hole {
		return scatter.Hole{At: plane.Point{X: x}, Bit: bit, Depth: 25, Fixing: "pin"}
	}
	return []scatter.Kind{
		{Name: "Straight", Code: "A", Outline: plane.Rectangle(plane.Point{X: -60, Y: -15}, 120, 30), Holes: []scatter.Hole{hole(25, 6), hole(-30, 6)}, StandOff: 18, Share: 3},
		{Name: "Bent", Code: "B", Outline: plane.Ellipse(plane.Point{}, 40, 11, 64), Holes: []scatter.Hole{hole(0, 1.5)}, Count: 24},
	}
}

func said(problems []wall.Problem) string {
	var lines []string
	for _, p := range problems {
		lines = append(lines, p.Error())
	}
	return strings.Join(lines, "\n")
}

func TestCheckKinds(t *testing.T) {
	require.Empty(t, scatter.CheckKinds(soundKinds(), measure.Millimetre))
	kind := func(change func(*scatter.Kind)) func([]scatter.Kind) []scatter.Kind {
		return func(k []scatter.Kind) []scatter.Kind { change(&k[0]); return k }
	}
	hole := func(change func(*scatter.Hole)) func([]scatter.Kind) []scatter.Kind {
		return kind(func(k *scatter.Kind) { change(&k.Holes[1]) })
	}
	const signs = "use letters, digits, spaces and - _ . , ' only"
	tests := []struct {
		name   string
		change func([]scatter.Kind) []scatter.Kind
		want   string
	}{
		{"none", func([]scatter.Kind) []scatter.Kind { return nil }, "pieces: there is no kind of piece; describe at least one"},
		{"many", func([]scatter.Kind) []scatter.Kind { return make([]scatter.Kind, 53) }, "pieces: there are 53 kinds of pieces; give at most 52"},
		{"nameless", kind(func(k *scatter.Kind) { k.Name = "" }), "pieces[0].name: there is no name; give one"},
		{"path as name", kind(func(k *scatter.Kind) { k.Name = `x\..` }), `pieces[0].name: "x\\.." begins or ends with a dot; remove the dot`},
		{"control in name", kind(func(k *scatter.Kind) { k.Name = "a\x1bb" }), `pieces[0].name: "a\x1bb" has the character '\x1b', which not every system takes in a file name; ` + signs},
		{"same name", kind(func(k *scatter.Kind) { k.Name = "bent" }), `pieces[1].name: "Bent" is also the name of piece 1; give each kind a name of its own`},
		{"no code", kind(func(k *scatter.Kind) { k.Code = "" }), `pieces[0].code: "" is not a code; give one or two letters or digits, like A or B2`},
		{"long code", kind(func(k *scatter.Kind) { k.Code = "ABC" }), `pieces[0].code: "ABC" is not a code; give one or two letters or digits, like A or B2`},
		{"sign as code", kind(func(k *scatter.Kind) { k.Code = "=1" }), `pieces[0].code: "=1" is not a code; give one or two letters or digits, like A or B2`},
		{"same code", kind(func(k *scatter.Kind) { k.Code = "b" }), `pieces[1].code: "B" is also the code of piece 1; give each kind a code of its own`},
		{"no outline", kind(func(k *scatter.Kind) { k.Outline = nil }), "pieces[0].outline: the outline has 0 corners; give at least 3"},
		{"crossing outline", kind(func(k *scatter.Kind) { k.Outline = plane.Ring{{X: -60}, {X: 60}, {X: -60, Y: 20}, {X: 60, Y: 30}} }),
			"pieces[0].outline: the side after corner 2 and the side after corner 4 cross or touch; give the corners in order round the outline, each of them once"},
		{"clockwise outline", kind(func(k *scatter.Kind) { k.Outline = k.Outline.Reverse() }), "pieces[0].outline: the outline runs clockwise; give its corners counter-clockwise"},
		{"no holes", kind(func(k *scatter.Kind) { k.Holes = nil }), "pieces[0].holes: there is no hole; give at least one"},
		{"many holes", kind(func(k *scatter.Kind) { k.Holes = make([]scatter.Hole, 13) }), "pieces[0].holes: there are 13 holes; give at most 12"},
		{"hole outside", hole(func(h *scatter.Hole) { h.At.X = -65 }), "pieces[0].holes[1].at: the hole lies 5 mm outside the outline; move it inside"},
		{"hole on the edge", hole(func(h *scatter.Hole) { h.At.Y = 12.5 }), "pieces[0].holes[1].at: a hole of 6 mm lies 2.5 mm from the edge and breaks through it; move it inwards, or use a finer bit"},
		{"hole just inside", hole(func(h *scatter.Hole) { h.At.Y = 12 }), ""},
		{"hole nowhere", hole(func(h *scatter.Hole) { h.At.Y = math.NaN() }), "pieces[0].holes[1].at: the hole is at no place; give two numbers"},
		{"holes meet", hole(func(h *scatter.Hole) { h.At.X = 20 }), "pieces[0].holes[1].at: the hole meets hole 1; move them apart"},
		{"no bit", hole(func(h *scatter.Hole) { h.Bit = 0 }), "pieces[0].holes[1].bit: 0 mm is not a bit; give 0.1 mm to 100 mm"},
		{"bit NaN", hole(func(h *scatter.Hole) { h.Bit = math.NaN() }), "pieces[0].holes[1].bit: ? is not a bit; give 0.1 mm to 100 mm"},
		{"no depth", hole(func(h *scatter.Hole) { h.Depth = -1 }), "pieces[0].holes[1].depth: -1 mm is not a depth to drill; give 0.1 mm to 1000 mm"},
		{"odd anchor", hole(func(h *scatter.Hole) { h.Anchor = "glue" }), `pieces[0].holes[1].anchor: "glue" is no way to hold; write pin, plug or expansion`},
		{"pin", hole(func(h *scatter.Hole) { h.Anchor = scatter.Pin }), ""},
		{"no fixing", hole(func(h *scatter.Hole) { h.Fixing = "" }), "pieces[0].holes[1].fixing: there is no fixing; say what goes into the hole"},
		{"stand-off beyond the room", kind(func(k *scatter.Kind) { k.StandOff = 5001 }), "pieces[0].stand-off: 5001 mm is not a stand-off in any room; give 0 to 5000 mm"},
		{"turned", kind(func(k *scatter.Kind) { k.Offset = -361 }), "pieces[0].turned: -361 is not a turn from the flow; give degrees clockwise from -360 to 360"},
		{"a turn", kind(func(k *scatter.Kind) { k.Offset = -360 }), ""},
		{"per cent in the size", kind(func(k *scatter.Kind) { k.Name, k.Size = "Straight, 80 %", "80 %" }), ""},
		{"per cent in the name", kind(func(k *scatter.Kind) { k.Name = "Straight, 80 %" }), `pieces[0].name: "Straight, 80 %" has the character '%', which not every system takes in a file name; ` + signs},
		{"weight", kind(func(k *scatter.Kind) { k.Weight = math.Inf(1) }), "pieces[0].weight: +Inf g is not a weight; give grams, 0 or more, or leave it out"},
		{"share and count", kind(func(k *scatter.Kind) { k.Count = 3 }), "pieces[0].share: there is a share and a count; keep one of them"},
		{"none of a kind", kind(func(k *scatter.Kind) { k.Share = 0 }), ""},
		{"share NaN", kind(func(k *scatter.Kind) { k.Share = math.NaN() }), "pieces[0].share: NaN is not a share; give a number above 0, like 1"},
		{"negative count", kind(func(k *scatter.Kind) { k.Count = -1 }), "pieces[0].count: -1 is not a number of pieces; give a whole number from 1 to 200000"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := scatter.CheckKinds(tt.change(soundKinds()), measure.Millimetre)
			assert.Equal(t, tt.want, said(got))
		})
	}
}

func TestCheckComposition(t *testing.T) {
	sound := scatter.Composition{Count: 320, Spacing: 95, Gap: 8, Headings: heading.Scheme{Spread: 14}}
	require.Empty(t, sound.Check(soundKinds(), measure.Millimetre))
	tests := []struct {
		change func(*scatter.Composition)
		want   string
	}{
		{func(c *scatter.Composition) { c.Count = 0 }, "composition.count: 0 is not a number of pieces; give a whole number from 1 to 200000"},
		{func(c *scatter.Composition) { c.Count = 200_001 }, "composition.count: 200001 is not a number of pieces; give a whole number from 1 to 200000"},
		{func(c *scatter.Composition) { c.Count = 20 }, "composition.count: 20 is fewer than the 24 that the kinds' counts come to; raise it, or lower the counts"},
		{func(c *scatter.Composition) { c.Spacing = 0 }, "composition.spacing: 0 mm is not a spacing; give at least 1 mm"},
		{func(c *scatter.Composition) { c.Spacing = math.NaN() }, "composition.spacing: ? is not a spacing; give at least 1 mm"},
		{func(c *scatter.Composition) { c.Gap = -1 }, "composition.gap: -1 mm is not a gap; give 0 or more"},
		{func(c *scatter.Composition) { c.Headings.Spread = 121 }, "composition.spread: 121 is not a spread of headings; give degrees from 0 to 120"},
		{func(c *scatter.Composition) { c.Overlap = 1 }, "composition.overlap: 1 is not a share that may be covered; give 0 or more, below 1, like 0.2 or 20 %"},
		{func(c *scatter.Composition) { c.Overlap = -0.1 }, "composition.overlap: -0.1 is not a share that may be covered; give 0 or more, below 1, like 0.2 or 20 %"},
		{func(c *scatter.Composition) { c.Overlap = 0.99 }, ""},
		{func(c *scatter.Composition) { c.Headings.Spread = math.NaN() }, "composition.spread: NaN is not a spread of headings; give degrees from 0 to 120"},
		{func(c *scatter.Composition) { c.Headings.Strays = 1.01 }, "composition.strays: 1.01 is not a share of strays; give a share from 0 to 1"},
		{func(c *scatter.Composition) { c.Headings.Second = heading.Second{Turn: 400, Share: -1} },
			"composition.second.share: -1 is not a share of the pieces; give a share from 0 to 1\ncomposition.second.turn: 400 is not a turn from the flow; give degrees clockwise from -360 to 360"},
		{func(c *scatter.Composition) { c.Headings.Strays, c.Headings.Second.Share = 0.5, 0.75 }, "composition.second.share: it and the strays come to 1.25; give shares that come to 1 at most"},
		{func(c *scatter.Composition) { c.Headings.Strays, c.Headings.Second.Share = 0.25, 0.75 }, ""},
		{func(c *scatter.Composition) { c.Headings.Apart = 181 }, "composition.differ: 181 is not a difference between headings; give degrees from 0 to 180"},
		{func(c *scatter.Composition) { c.Mixing.Way = "stirred" }, `composition.mix: "stirred" is not a way to mix; give scattered, drifting or families`},
		{func(c *scatter.Composition) { c.Mixing = mixing.Scheme{Way: mixing.Drifting, Size: 3} }, "composition.mix: there is a size of families, and no families; give it with families"},
		{func(c *scatter.Composition) { c.Mixing = mixing.Scheme{Way: mixing.Families, Size: 1} }, "composition.mix.families: 1 is not a number of pieces in a family; give a whole number from 2 to 1000"},
		{func(c *scatter.Composition) { c.Mixing = mixing.Scheme{Way: mixing.Families, Size: 1000} }, ""},
		{func(c *scatter.Composition) { c.Seating = scatter.Seating{Move: -1, Turn: 181, Holes: math.Inf(1)} },
			"composition.seating.move: -1 mm is not a move; give 0 mm to 1000 mm\ncomposition.seating.turn: 181 is not a turn; give degrees from 0 to 180\ncomposition.seating.holes: ? is not a distance between holes; give 0 mm to 1000 mm"},
		{func(c *scatter.Composition) { c.Seating = scatter.Seating{Move: 20, Turn: 10, Holes: 40} }, ""},
	}
	for _, tt := range tests {
		c := sound
		tt.change(&c)
		assert.Equal(t, tt.want, said(c.Check(soundKinds(), measure.Millimetre)))
	}
	counted := soundKinds()[1:]
	assert.Equal(t, "composition.count: 320 is more than the 24 that the kinds' counts come to; lower it, raise the counts, or give a kind a share in place of its count",
		said(sound.Check(counted, measure.Millimetre)))
	assert.Empty(t, sound.Check(nil, measure.Millimetre), "without kinds their counts are not asked for")
}
