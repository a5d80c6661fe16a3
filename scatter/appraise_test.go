package scatter_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/scatter/density"
	"wallshoal/scatter/flow"
	"wallshoal/scatter/heading"
	"wallshoal/scatter/mixing"
	"wallshoal/scatter/quality"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

func TestAnAppraisalCountsWhatHangs(t *testing.T) {
	site, comp := corner(t, 90), composition(300)
	layout, err := scatter.Lay(t.Context(), site, kinds(), comp, 4, nil)
	require.NoError(t, err)
	a, err := scatter.Appraise(t.Context(), site, kinds(), comp, layout)
	require.NoError(t, err)
	assert.Equal(t, []int{300, 300}, []int{a.Pieces, a.Asked})
	quotas, err := scatter.Quotas(kinds(), 300)
	require.NoError(t, err)
	for i, k := range a.Kinds {
		assert.Equal(t, quotas[i], k.Asked)
		assert.Equal(t, quotas[i], k.Pieces)
	}
	sum := 0
	for _, f := range a.Faces {
		onFace := 0
		for _, n := range f.Kinds {
			onFace += n
		}
		assert.Equal(t, f.Pieces, onFace)
		sum += f.Pieces
	}
	assert.Equal(t, 300, sum)
	assert.GreaterOrEqual(t, a.Evenness.Closest, comp.Spacing)
	assert.Greater(t, a.Evenness.MeanNearest, a.Evenness.Closest)
	assert.Greater(t, a.Evenness.ClarkEvans, 1.5, "evener than chance")
	places := make([]quality.Place, len(layout.Pieces))
	for i, p := range layout.Pieces {
		places[i] = quality.Place{Face: p.Face, At: p.At}
	}
	free := site.Faces[0].Free().Area() + site.Faces[1].Free().Area()
	assert.InDelta(t, quality.ClarkEvans(quality.NearestDistances(site, places), 300/free), a.Evenness.ClarkEvans, 1e-9, "the density is even")
	assert.Less(t, a.Density.Dispersion, 0.6, "truer than chance")
	assert.Less(t, float64(a.Mixture.Equal.Pairs), a.Mixture.Equal.Mean, "equals are seldom neighbours")
}

// TestHeadingsAreMeasuredAgainstTheFlowThatTheyFollow parts the flow, so that it is not the sum of the
// currents alone, and turns one kind from it.
func TestHeadingsAreMeasuredAgainstTheFlowThatTheyFollow(t *testing.T) {
	site, comp, some := corner(t, 90), composition(250), kinds()
	comp.Part = true
	comp.Headings = heading.Scheme{}
	some[1].Offset = 90
	layout, err := scatter.Lay(t.Context(), site, some, comp, 4, nil)
	require.NoError(t, err)
	a, err := scatter.Appraise(t.Context(), site, some, comp, layout)
	require.NoError(t, err)
	assert.Less(t, a.Headings.Deviation, 0.02, "all go with the flow, to the grain of a heading")
	comp.Part = false
	a, err = scatter.Appraise(t.Context(), site, some, comp, layout)
	require.NoError(t, err)
	assert.Greater(t, a.Headings.Deviation, 1.0, "and not with that which does not part")

	for i := range layout.Pieces {
		layout.Pieces[i].Heading = layout.Pieces[i].Heading.Turned(25)
	}
	comp.Part = true
	a, err = scatter.Appraise(t.Context(), site, some, comp, layout)
	require.NoError(t, err)
	assert.InDelta(t, 25, a.Headings.Deviation, 0.02)
}

// rising is denser by far to the right of the room.
type rising struct{}

func (rising) At(f space.Frame, p plane.Point) float64 {
	return 0.05 + math.Max(0, f.At(p).X)/4000
}

func TestAnAppraisalKnowsTheDensityAsked(t *testing.T) {
	site, comp := corner(t, 90), composition(220)
	comp.Density = density.Scheme{Field: rising{}}
	dense, err := scatter.Lay(t.Context(), site, kinds(), comp, 4, nil)
	require.NoError(t, err)
	kept, err := scatter.Appraise(t.Context(), site, kinds(), comp, dense)
	require.NoError(t, err)
	comp.Density = density.Scheme{}
	even, err := scatter.Appraise(t.Context(), site, kinds(), comp, dense)
	require.NoError(t, err)
	assert.Less(t, kept.Density.Dispersion, 1.0)
	assert.Greater(t, even.Density.Dispersion, 2*kept.Density.Dispersion)
	assert.Greater(t, even.Density.Displaced, kept.Density.Displaced+0.05)
	assert.Greater(t, kept.Evenness.ClarkEvans, even.Evenness.ClarkEvans+0.02, "gathered where they are to be")
}

func TestTheKindsOfAMixture(t *testing.T) {
	site, comp, some := plain(t, 2000, 1500), composition(80), kinds()
	some[0].Of, some[1].Of = "dart", "dart"
	comp.Mixing.Way = mixing.Drifting
	comp.Flow = flow.Field{flow.Toward{Point: site.Faces[0].Frame.At(plane.Point{X: 2000, Y: 700}), Strength: 1}}
	layout, err := scatter.Lay(t.Context(), site, some, comp, 4, nil)
	require.NoError(t, err)
	a, err := scatter.Appraise(t.Context(), site, some, comp, layout)
	require.NoError(t, err)
	assert.Equal(t, 3, a.Mixture.Kinds, "two are forms of the same")
	assert.Greater(t, a.Mixture.Drift, 0.5)
	assert.Greater(t, float64(a.Mixture.Equal.Pairs), a.Mixture.Equal.Mean)
	slices.Reverse(layout.Pieces)
	again, err := scatter.Appraise(t.Context(), site, some, comp, layout)
	require.NoError(t, err)
	assert.Equal(t, a.Mixture.Equal, again.Mixture.Equal, "whatever the order of the pieces")
}

func TestFewPiecesCanBeAppraised(t *testing.T) {
	site, comp := plain(t, 2000, 1500), composition(2)
	for n := range 3 {
		layout := scatter.Layout{}
		for i := range n {
			layout.Pieces = append(layout.Pieces, scatter.Piece{ID: i + 1, At: plane.Point{X: 300 * float64(i+1), Y: 700}})
		}
		a, err := scatter.Appraise(t.Context(), site, kinds(), comp, layout)
		require.NoError(t, err)
		assert.Equal(t, n, a.Pieces)
		assert.Zero(t, a.Density)
		for _, v := range []float64{a.Evenness.Closest, a.Evenness.MeanNearest, a.Headings.Along, a.Headings.Alike, a.Mixture.Drift} {
			assert.False(t, math.IsNaN(v) || math.IsInf(v, 0))
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	comp.Part = true
	_, err := scatter.Appraise(ctx, corner(t, 90), kinds(), comp, scatter.Layout{})
	assert.ErrorIs(t, err, context.Canceled)
}

func BenchmarkAppraise(b *testing.B) {
	site, comp := corner(b, 90), composition(1000)
	layout, err := scatter.Lay(b.Context(), site, kinds(), comp, 4, nil)
	require.NoError(b, err)
	for b.Loop() {
		if _, err := scatter.Appraise(b.Context(), site, kinds(), comp, layout); err != nil {
			b.Fatal(err)
		}
	}
}
