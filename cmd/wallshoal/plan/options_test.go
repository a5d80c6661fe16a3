package plan_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/scatter"
	"wallshoal/scatter/density"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// withOptions is a plan with something that stands on a wall, pieces in sizes, a density that goes by
// the walls that take pieces, and a ceiling.
const withOptions = `title: Leaves
seed: 3
room:
  walls:
    - {name: Long wall, length: 4000, height: 2500, surface: brick}
    - name: Short wall
      length: 3000
      height: 2500
      surface: plaster
      obstructions:
        - {kind: boxing, name: pipe boxing, left: 2000, bottom: 0, width: 600, height: 1200, depth: 200, use: [front, top]}
    - {name: Back wall, length: 4000, height: 2500, surface: brick, use: false}
    - {name: Door wall, length: 3000, height: 2500, surface: brick, use: false}
  ceiling: {surface: plasterboard}
pieces:
  - {name: Leaf, code: A, outline: {ellipse: [80, 22]}, holes: [{at: [0, 0], bit: 1.5, depth: 25, fixing: pin}], stand-off: 12, share: 3, sizes: [100 %, 80 %]}
  - {name: Twig, code: B, outline: {ellipse: [60, 20]}, holes: [{at: [0, 0], bit: 1.5, depth: 25, fixing: pin}], stand-off: 5, share: 1}
  - {name: Berry, code: C, outline: {ellipse: [20, 20]}, holes: [{at: [0, 0], bit: 1.5, depth: 25, fixing: pin}], stand-off: 5, count: 10}
composition:
  count: 100
  spacing: 95
  density:
    fade: {towards: right, over: 800}
`

func optionsOf(t *testing.T, options string) plan.Plan {
	t.Helper()
	p, err := plan.Read("p.yaml", []byte(withOptions+options))
	require.NoError(t, err)
	return p
}

// What an option names is otherwise, and nothing else is; the plan itself stays as it was.
func TestAnOptionIsThePlanButForWhatItNames(t *testing.T) {
	bare, err := plan.Read("p.yaml", []byte(withOptions))
	require.NoError(t, err)
	assert.Empty(t, bare.Options)
	p := optionsOf(t, `options:
  - {name: as it is}
  - {name: light, count: 60, spacing: 120, gap: 9}
`)
	require.Len(t, p.Options, 2)
	options := p.Options
	p.Options, bare.Options = nil, nil
	lines := p.Lines
	p.Lines, bare.Lines = nil, nil
	assert.Equal(t, bare, p)
	assert.Equal(t, plan.OptionSection{Name: "as it is", Room: p.Room, Kinds: p.Kinds, Composition: p.Composition}, options[0])

	want := p.Composition
	want.Count, want.Spacing, want.Gap = 60, 120, 9
	assert.Equal(t, want, options[1].Composition)
	assert.Equal(t, p.Room, options[1].Room)
	assert.Equal(t, p.Kinds, options[1].Kinds)
	assert.Equal(t, []string{"60 pieces", "spacing 120 mm", "gap 9 mm"}, options[1].Changes)
	first := 1 + strings.Count(withOptions, "\n") + 1
	assert.Equal(t, first, lines[plan.OptionField(0, "count")], "that of the option, which has no count")
	assert.Equal(t, first+1, lines[plan.OptionField(1, "count")])

	p.Options = options
	with := p.With(1)
	assert.Equal(t, want, with.Composition)
	assert.Equal(t, "Leaves", with.Title)
	assert.Equal(t, 100, p.Composition.Count)
}

// Naming what the plan has already changes nothing.
func TestAnOptionThatRepeatsThePlanIsThePlan(t *testing.T) {
	p := optionsOf(t, `options:
  - {name: middle, count: 100, spacing: 95, gap: 5, walls: [Long wall, Short wall, Ceiling], bare: [Back wall], counts: {C: 10}, shares: {A: 3}}
`)
	assert.Empty(t, p.Options[0].Changes)
	assert.False(t, p.Options[0].OtherWalls)
	assert.Equal(t, p.Composition, p.Options[0].Composition)
	assert.Equal(t, p.Kinds, p.Options[0].Kinds)
}

func TestWhichWallsAnOptionUses(t *testing.T) {
	p := optionsOf(t, `options:
  - {name: a, bare: [short wall, Ceiling]}
  - {name: b, bare: [pipe boxing]}
  - {name: c, walls: [Long wall, Back wall]}
`)
	assert.Equal(t, []string{"Short wall bare", "Ceiling bare"}, p.Options[0].Changes)
	assert.True(t, p.Options[0].Room.Walls[1].Bare)
	assert.Empty(t, p.Options[0].Room.Walls[1].Obstructions[0].Use, "what stands on a bare wall is bare")
	assert.True(t, p.Options[0].Room.Ceiling.Bare)
	assert.Equal(t, []string{"pipe boxing bare"}, p.Options[1].Changes)
	assert.False(t, p.Options[1].Room.Walls[1].Bare)
	assert.Equal(t, []string{"Short wall bare", "Back wall used", "Ceiling bare"}, p.Options[2].Changes)
	assert.False(t, p.Options[2].Room.Walls[2].Bare)
	for _, o := range p.Options {
		assert.True(t, o.OtherWalls)
	}
	assert.False(t, p.Room.Walls[1].Bare)
	assert.Equal(t, []wall.Side{wall.Front, wall.Top}, p.Room.Walls[1].Obstructions[0].Use)
	assert.False(t, p.Room.Ceiling.Bare)

	// A fade towards the right of the whole work begins at the last wall that takes pieces.
	at := func(c scatter.Composition, face int, x float64) float64 {
		site, err := wall.Survey(p.Room)
		require.NoError(t, err)
		return c.Density.Field.At(site.Faces[face].Frame, plane.Point{X: x, Y: 1200})
	}
	assert.Equal(t, 1.0, at(p.Composition, 0, 3950))
	assert.Less(t, at(p.Options[0].Composition, 0, 3950), 0.1, "the long wall is the last")
}

func TestWhichPiecesAnOptionHas(t *testing.T) {
	p := optionsOf(t, `options:
  - {name: a, counts: {C: 0, B: 4}}
  - {name: b, shares: {A: 0, C: 2.5}}
`)
	quotas := func(o plan.OptionSection) []int {
		q, err := scatter.Quotas(o.Kinds, o.Composition.Count)
		require.NoError(t, err)
		return q
	}
	assert.Equal(t, []string{"no Berry", "4 Twig"}, p.Options[0].Changes)
	assert.Equal(t, []int{48, 48, 4, 0}, quotas(p.Options[0]), "two sizes of leaf")
	assert.Equal(t, []string{"no Leaf", "share of Berry 2.5"}, p.Options[1].Changes)
	assert.Equal(t, []int{0, 0, 29, 71}, quotas(p.Options[1]), "1 : 2.5 of 100")
}

// A share of 0 leaves a kind out, in a plan as in an option, and in all its sizes.
func TestAShareOfNothing(t *testing.T) {
	text := strings.Replace(withOptions, "share: 3", "share: 0", 1)
	p, err := plan.Read("p.yaml", []byte(text+"options:\n  - {name: all leaves, shares: {A: 3}}\n"))
	require.NoError(t, err)
	asOption := optionsOf(t, "options:\n  - {name: no leaves, shares: {A: 0}}\n").Options[0]
	assert.Equal(t, asOption.Kinds, p.Kinds)
	assert.Equal(t, optionsOf(t, "").Kinds, p.Options[0].Kinds)

	text = strings.NewReplacer("share: 3", "share: 0", "share: 1", "count: 40", "  count: 100\n", "").Replace(withOptions)
	p, err = plan.Read("p.yaml", []byte(text))
	require.NoError(t, err)
	assert.Equal(t, 50, p.Composition.Count, "the counts of all that hang")

	text = strings.NewReplacer("share: 3", "share: 0", "share: 1", "share: 0", "count: 10}", "share: 0}").Replace(withOptions)
	_, err = plan.Read("p.yaml", []byte(text))
	require.ErrorContains(t, err, "pieces: no kind has a share or a count above 0; give at least one of them some pieces")
}

func TestTheDensityOfAnOption(t *testing.T) {
	p := optionsOf(t, `options:
  - {name: even, density: even}
  - {name: banded, density: {bands: {to: 1500, strength: 2}}}
  - {name: by area, density: {base: 6 per m2}}
`)
	assert.Equal(t, density.Scheme{}, p.Options[0].Composition.Density)
	assert.Equal(t, 100, p.Options[0].Composition.Count)
	require.Len(t, p.Options[1].Composition.Density.Field, 1)
	assert.Equal(t, 100, p.Options[1].Composition.Count)
	assert.Equal(t, density.Scheme{PerSquareMetre: 6}, p.Options[2].Composition.Density)
	assert.Zero(t, p.Options[2].Composition.Count, "the walls say it")

	text := strings.Replace(withOptions, "  count: 100\n", "", 1)
	text = strings.Replace(text, "  density:\n", "  density:\n    base: 5 per m2\n", 1)
	p, err := plan.Read("p.yaml", []byte(text+`options:
  - {name: so many, count: 80}
  - {name: even, density: even}
`))
	require.NoError(t, err)
	assert.Zero(t, p.Options[0].Composition.Density.PerSquareMetre)
	assert.Equal(t, 80, p.Options[0].Composition.Count)
	assert.Equal(t, density.Scheme{PerSquareMetre: 5}, p.Options[1].Composition.Density)
}

// Whoever writes into the plan what one option says has it be the plan, beside another that was: both may stand.
func TestTwoOptionsMayBeThePlan(t *testing.T) {
	options := optionsOf(t, "options:\n  - {name: a}\n  - {name: b, count: 100}\n").Options
	require.Len(t, options, 2)
	assert.Empty(t, options[0].Changes)
	assert.Empty(t, options[1].Changes)
}

// Everything wrong with all options is said at once, each at its own line.
func TestFaultsOfOptions(t *testing.T) {
	const head = "p.yaml:"
	for _, tt := range []struct{ name, options, want string }{
		{"none", "options: []\n", `options: has no option; list one, or remove the line`},
		{"no list", "options: {light: 3}\n", `options: is a map of keys; write a list of options, each starting with a dash`},
		{"too many", "options:\n" + strings.Repeat("  - {name: a}\n", 7), `options: has 7 items; give at most 6`},
		{"no name", "options:\n  - {count: 50}\n", `options[0].name: is missing; give each option a name, like light`},
		{"a long name", "options:\n  - {name: as many as there is room for, count: 5}\n", `options[0].name: has 28 characters; keep it within 24`},
		{"a name with a dot", "options:\n  - {name: full, count: 50}\n  - {name: Full., count: 60}\n", `options[1].name: "Full." begins or ends with a dot; remove the dot`},
		{"one name twice", "options:\n  - {name: full, count: 50}\n  - {name: FULL, count: 60}\n", `options[1].name: "FULL" is also the name of option 1; give each option a name of its own`},
		{"the plan's name", "options:\n  - {name: As planned, count: 50}\n", `options[0].name: is what the plan as it is written is called; give it another name`},
		{"a slip", "options:\n  - {name: a, cuont: 50}\n", `options[0].cuont: is not a known key; did you mean count?`},
		{"no number", "options:\n  - {name: a, count: lots}\n", `options[0].count: "lots" is not a number of pieces; give a whole number from 1 to 200000`},
		{"fewer than counted", "options:\n  - {name: a, count: 5}\n", `options[0].count: 5 is fewer than the 10 that the kinds' counts come to; raise it, or lower the counts`},
		{"more counted than there are", "options:\n  - {name: a, counts: {B: 101}}\n", `options[0].count: 100 is fewer than the 111 that the kinds' counts come to; raise it, or lower the counts`},
		{"no such wall", "options:\n  - {name: a, walls: [Lnog wall]}\n", `options[0].walls[0]: "Lnog wall" is not the name of a wall; did you mean Long wall?`},
		{"a wall twice", "options:\n  - {name: a, walls: [Long wall, long wall]}\n", `options[0].walls[1]: "Long wall" is named twice; keep one of them`},
		{"neither", "options:\n  - {name: a, walls: [Long wall], bare: [Long wall]}\n", `options[0].bare[0]: "Long wall" is among the walls that take pieces; keep one of them`},
		{"nothing such", "options:\n  - {name: a, bare: [pipe boxng]}\n", `options[0].bare[0]: "pipe boxng" is no wall, and nothing on one; did you mean pipe boxing?`},
		{"all bare", "options:\n  - {name: a, bare: [Long wall, Short wall, Ceiling]}\n", `options[0].bare: leaves every wall bare; leave at least one that takes pieces`},
		{"no such code", "options:\n  - {name: a, counts: {D: 5}}\n", `options[0].counts.D: is the code of no piece; write codes and numbers, like {A: 12}`},
		{"both", "options:\n  - {name: a, counts: {B: 5}, shares: {B: 2}}\n", `options[0].shares.B: stands beside a count; keep one of them`},
		{"no pieces", "options:\n  - {name: a, shares: {A: 0, B: 0, C: 0}}\n", `options[0].shares: leaves no piece to hang; leave at least one kind`},
		{"too few for the sizes", "options:\n  - {name: a, counts: {A: 1}}\n", `options[0].counts: with these changes, pieces[0].count: 1 pieces by the shares of 2 forms and sizes leave one with none`},
		{"two sums", "options:\n  - {name: a, count: 50, density: {base: 5 per m2}}\n", `options[0].density.base: stands beside a count; keep one of them`},
		{"no density", "options:\n  - {name: a, density: thick}\n", `options[0].density: "thick" is not a density; write one of even`},
		{"no drift", "options:\n  - {name: a, density: {drift: 3}}\n", `options[0].density.drift: follows the flow, and the flow leads nowhere`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := plan.Read("p.yaml", []byte(withOptions+tt.options))
			require.Error(t, err)
			_, said, _ := strings.Cut(strings.TrimPrefix(err.Error(), head), ": ")
			assert.Contains(t, said, tt.want)
			assert.Equal(t, 1, 1+strings.Count(err.Error(), "\n"), "faults that only come of it: %s", err)
		})
	}
	_, err := plan.Read("p.yaml", []byte(withOptions+`options:
  - name: a
    count: 5
  - name: b
    walls: [Nowhere]
    shares: {A: -1}
  - name: c
    gap: wide
`))
	require.Error(t, err)
	assert.Equal(t, 4, 1+strings.Count(err.Error(), "\n"), err.Error())
}

// Where the plan itself is at fault, nothing is said of its options that only comes of that.
func TestOptionsOfAFaultyPlan(t *testing.T) {
	for _, from := range []string{"count: 100", "length: 4000", "code: B", "towards: right", "surface: brick"} {
		key, _, _ := strings.Cut(from, ":")
		text := strings.Replace(withOptions, from, key+": [oops]", 1)
		_, alone := plan.Read("p.yaml", []byte(text))
		require.Error(t, alone)
		_, err := plan.Read("p.yaml", []byte(text+`options:
  - {name: a, count: 50, bare: [Short wall], counts: {C: 4}, shares: {A: 2}}
  - {name: b, walls: [Long wall], density: {fade: {towards: left, over: 500}}}
`))
		require.Error(t, err)
		assert.Equal(t, alone.Error(), err.Error(), from)
	}
}

func FuzzOptions(f *testing.F) {
	f.Add("  - {name: a, count: 60, walls: [Long wall], bare: [pipe boxing], counts: {A: 3}, shares: {B: 0}}\n")
	f.Add("  - {name: b, density: {base: 4 per m2, fade: {towards: right, over: 300}}, bare: [Ceiling], gap: 0}\n")
	f.Fuzz(func(t *testing.T, options string) {
		p, err := plan.Read("p.yaml", []byte(withOptions+"options:\n"+options))
		if err != nil {
			assert.NotEmpty(t, err.Error())
			return
		}
		for _, o := range p.Options {
			assert.Empty(t, o.Room.Check(p.Units))
			assert.Empty(t, o.Composition.Check(o.Kinds, p.Units))
		}
	})
}
