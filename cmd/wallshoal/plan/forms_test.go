package plan_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/scatter"
	"wallshoal/wall/plane"
)

// formed gives the leaf of the sound plan forms and sizes.
const formed = "stand-off: 12\n" + `    weight: 4
    share: 3
    turned: -30
    forms:
      - name: flat
      - {name: half fold, share: 2, stand-off: 20, width: 60 %}
      - {name: closed, share: 1, outline: [[0, -40], [9, 0], [0, 40], [-9, 0]]}
    sizes: [{scale: 100 %, share: 3}, {length: 60}]`

func TestFormsAndSizes(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte(strings.NewReplacer("stand-off: 12", formed, "at: [0, 0]", "at: [3, 20]").Replace(sound)))
	require.NoError(t, err)
	require.Len(t, p.Kinds, 7)
	var names, codes []string
	var share float64
	for _, k := range p.Kinds[:6] {
		names, codes, share = append(names, k.Name), append(codes, k.Code), share+k.Share
		assert.Equal(t, "Leaf", k.Of)
		assert.Equal(t, -30.0, k.Offset)
		assert.Equal(t, p.Kinds[0].Colour, k.Colour)
		assert.Equal(t, []float64{1.5, 25}, []float64{k.Holes[0].Bit, k.Holes[0].Depth}, "bit and depth stay")
	}
	assert.Equal(t, []string{"Leaf, flat, 100 %", "Leaf, flat, 60 mm", "Leaf, half fold, 100 %", "Leaf, half fold, 60 mm", "Leaf, closed, 100 %", "Leaf, closed, 60 mm"}, names)
	assert.Equal(t, []string{"A1", "A2", "A3", "A4", "A5", "A6"}, codes)
	assert.InDelta(t, 3, share, 1e-12)
	flat, folded, closed, twig := p.Kinds[0], p.Kinds[3], p.Kinds[5], p.Kinds[6]
	// Shares 1, 2 and 1 by 3 and 1, of the piece's 3.
	assert.InDelta(t, 3.*1/4*3/4, flat.Share, 1e-12)
	assert.InDelta(t, 3.*2/4*1/4, folded.Share, 1e-12)
	assert.Equal(t, []string{"half fold", "60 mm"}, []string{folded.Form, folded.Size})
	assert.Equal(t, []float64{12, 20, 12}, []float64{flat.StandOff, folded.StandOff, closed.StandOff})
	// 60 mm of 80 mm are three quarters. The leaf heads up: its hole lies 20 mm ahead and 3 mm to the right.
	assert.Equal(t, plane.Point{X: 20, Y: -3}, flat.Holes[0].At)
	assert.Equal(t, plane.Point{X: 15, Y: -1.35}, folded.Holes[0].At, "six tenths as far off the middle, and all of it three quarters")
	assert.Equal(t, plane.Point{X: 15, Y: -2.25}, closed.Holes[0].At, "where it is in the drawing")
	for _, row := range []struct {
		kind        scatter.Kind
		long, broad float64
	}{{flat, 80, 22}, {folded, 60, 22 * 0.6 * 0.75}, {closed, 60, 13.5}} {
		b := row.kind.Outline.Bounds()
		assert.InDelta(t, row.long, b.Width(), 0.05, row.kind.Name)
		assert.InDelta(t, row.broad, b.Height(), 0.05, row.kind.Name)
	}
	assert.Equal(t, []float64{4, 4 * 0.75 * 0.75}, []float64{flat.Weight, folded.Weight}, "the weight goes with the area")
	assert.Equal(t, []string{"Twig", "Twig", "B", "", ""}, []string{twig.Name, twig.Of, twig.Code, twig.Form, twig.Size})
}

// TestCountOfFormsAndSizes: a piece with a count is made in just so many, by largest remainders.
func TestCountOfFormsAndSizes(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte(strings.Replace(sound, "stand-off: 12", "stand-off: 12\n    count: 11\n    sizes: [100 %, 80%, 0.6]", 1)))
	require.NoError(t, err)
	var counts []int
	var names []string
	for _, k := range p.Kinds {
		counts, names = append(counts, k.Count), append(names, k.Name)
	}
	assert.Equal(t, []int{4, 4, 3, 0}, counts)
	assert.Equal(t, []string{"Leaf, 100 %", "Leaf, 80 %", "Leaf, 60 %", "Twig"}, names)
}

// TestOneFormKeepsTheCode: a piece in one form and size needs no digit.
func TestOneFormKeepsTheCode(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte(strings.NewReplacer("code: A", "code: A7", "stand-off: 12", "stand-off: 12\n    forms: [{name: folded, width: 0.5}]").Replace(sound)))
	require.NoError(t, err)
	require.Len(t, p.Kinds, 2)
	assert.Equal(t, []string{"A7", "Leaf, folded", "Leaf", "folded", ""}, []string{p.Kinds[0].Code, p.Kinds[0].Name, p.Kinds[0].Of, p.Kinds[0].Form, p.Kinds[0].Size})
	assert.InDelta(t, 11, p.Kinds[0].Outline.Bounds().Height(), 0.01)
}

func TestFaultsOfFormsAndSizes(t *testing.T) {
	const twoSizes = "stand-off: 12\n    sizes: [100 %, 80 %]"
	for _, tt := range []struct {
		pairs []string
		want  string
	}{
		{[]string{"stand-off: 12", "stand-off: 12\n▶    turned: 400"}, "pieces[0].turned: 400 is not a turn from the flow; give a number from -360 to 360"},
		{[]string{"stand-off: 12", "stand-off: 12\n▶    forms: []"}, "pieces[0].forms: has no form; list one, or remove the line"},
		{[]string{"stand-off: 12", "stand-off: 12\n▶    forms: flat"}, "pieces[0].forms: is a single value; write a list of forms, each starting with a dash"},
		{[]string{"stand-off: 12", "stand-off: 12\n    forms: [\n▶{share: 1}]"}, "pieces[0].forms[0].name: is missing; give each form a name"},
		{[]string{"stand-off: 12", "stand-off: 12\n    forms: [\n▶{name: a/b}]"}, `pieces[0].forms[0].name: with the name of the piece, "Leaf, a/b" has the character '/', which not every system takes in a file name; use letters, digits, spaces and - _ . , ' only`},
		{[]string{"stand-off: 12", "stand-off: 12\n    forms: [{name: flat},\n▶{name: Flat}]"}, `pieces[0].forms[1]: "Flat" is also the name of form 1; give each form a name of its own`},
		{[]string{"stand-off: 12", "stand-off: 12\n    forms: [{name: flat,\n▶width: 0}]"}, "pieces[0].forms[0].width: 0 is not a width against the piece as drawn; give a number from 0.05 to 2, or per cent, like 20 %"},
		{[]string{"stand-off: 12", "stand-off: 12\n    forms: [{name: flat, outline: {ellipse: [80, 9]},\n▶width: 1}]"}, "pieces[0].forms[0].width: stands beside an outline; keep one of them"},
		{[]string{"stand-off: 12", "stand-off: 12\n    forms: [{name: flat,\n▶length: 60}]"}, "pieces[0].forms[0].length: is only used with an outline; remove it, or list sizes beside the forms"},
		{[]string{"stand-off: 12", "stand-off: 12\n    forms: [{name: flat,\n▶share: 0}]"}, "pieces[0].forms[0].share: is not a share that gets any piece; give a number above 0, or remove what it is a share of"},
		{[]string{"stand-off: 12", "stand-off: 12\n    forms: [\n▶{name: flat, width: 5 %}]"}, `pieces[0].forms[0]: "Leaf, flat", holes[0].at: a hole of 1.5 mm lies 0.55 mm from the edge and breaks through it; move it inwards, or use a finer bit`},
		{[]string{"stand-off: 12", "stand-off: 12\n    forms: [\n▶{name: far, outline: [[0, 9], [9, 9], [0, 89]]}]"}, `pieces[0].forms[0]: "Leaf, far", holes[0].at: the hole lies 9 mm outside the outline; move it inside`},
		{[]string{"stand-off: 12", "stand-off: 12\n▶    sizes: 80 %"}, "pieces[0].sizes: is a single value; write a list of sizes, like [100 %, 80 %]"},
		{[]string{"stand-off: 12", "stand-off: 12\n    sizes: [100 %,\n▶80]"}, "pieces[0].sizes[1]: 80 is not a scale against the piece as drawn; write 80 % if it is meant per cent, or a number from 0.05 to 20"},
		{[]string{"stand-off: 12", "stand-off: 12\n    sizes: [100 %,\n▶1]"}, "pieces[0].sizes[1]: 100 % is also size 1; give each size once"},
		{[]string{"stand-off: 12", "stand-off: 12\n    sizes: [{scale: 1,\n▶length: 20}]"}, "pieces[0].sizes[0].length: stands beside a scale; keep one of them"},
		{[]string{"stand-off: 12", "stand-off: 12\n    sizes: [\n▶{share: 2}]"}, "pieces[0].sizes[0]: is no size; give scale or length, like {scale: 80 %, share: 1}"},
		{[]string{"stand-off: 12", "stand-off: 12\n    sizes: [{\n▶length: 3}]"}, "pieces[0].sizes[0].length: 3 mm is far off the piece as drawn, which is 80 mm long; give it as a piece of its own"},
		{[]string{"stand-off: 12", "stand-off: 12\n    count: 2\n    sizes: [1, 0.9, 0.8]", "count: 2", "▶count: 2"}, "pieces[0].count: 2 pieces by the shares of 3 forms and sizes leave one with none; raise it, list fewer, or give a share in place of the count"},
		{[]string{"code: A", "▶code: A2", "stand-off: 12", twoSizes}, `pieces[0].code: "A2" leaves no room for the digit that tells forms and sizes apart; give one letter, or list the forms and sizes as pieces of their own`},
		{[]string{"code: B", "▶code: a2", "stand-off: 12", twoSizes}, `pieces[1].code: "a2" is then the code of "Leaf, 80 %" and of "Twig"; give one of the pieces another letter`},
		{[]string{"name: Twig", "▶name: Leaf 80", "stand-off: 12", twoSizes}, `pieces[1].name: "Leaf 80" is then hard to tell from "Leaf, 80 %"; give one of the pieces another name`},
		{[]string{"  - name: Leaf", "▶  - name: Leaf", "stand-off: 12", twoSizes + "\n    forms: [{name: a}, {name: b}, {name: c}, {name: d}, {name: e}]"}, "pieces[0]: 5 forms in 2 sizes are 10 kinds, and a code has one digit for them; list at most 9, and the others as pieces of their own"},
	} {
		text, line := change(t, tt.pairs)
		_, err := plan.Read("p.yaml", []byte(text))
		assert.EqualError(t, err, fmt.Sprintf("p.yaml:%d: %s", line, tt.want), "%q", tt.pairs)
	}
}

// TestKindsOfAllFormsAndSizes: forms and sizes count against the most kinds there can be.
func TestKindsOfAllFormsAndSizes(t *testing.T) {
	const leaf = "  - {name: Leaf %c, code: %c, outline: {ellipse: [80, 22]}, stand-off: 9, holes: [{at: [0, 0], bit: 2, depth: 9, fixing: pin}], sizes: [1, 2, 3, 4, 5, 6, 7, 8, 9]}\n"
	start, end := strings.Index(sound, "  - name: Leaf"), strings.Index(sound, "composition:")
	kinds := func(n int) string {
		pieces := ""
		for i := range n {
			pieces += fmt.Sprintf(leaf, 'A'+i, 'A'+i)
		}
		return sound[:start] + pieces + sound[end:]
	}
	p, err := plan.Read("p.yaml", []byte(kinds(5)))
	require.NoError(t, err)
	assert.Len(t, p.Kinds, 45)
	_, err = plan.Read("p.yaml", []byte(kinds(6)))
	assert.EqualError(t, err, "p.yaml:17: pieces: there are 54 kinds of pieces, with each form in each size; give at most 52")
}
