package scatter_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/scatter"
	"wallshoal/scatter/flow"
	"wallshoal/scatter/heading"
	"wallshoal/scatter/neighbour"
	"wallshoal/scatter/quality"
)

// headingsOf lays 240 pieces of two kinds, one of them turned, and measures how they head.
func headingsOf(t *testing.T, s heading.Scheme) quality.Headings {
	t.Helper()
	sweep := flow.Sweep{Angle: heading.Bearing(80).Angle(), Strength: 1}
	ks := kinds()[1:3]
	ks[1].Offset = 40
	layout := lay(t, corner(t, 90), ks, scatter.Composition{
		Count: 240, Spacing: 60, Gap: 3, Flow: flow.Field{sweep}, Headings: s,
	}, 1)
	places := make([]neighbour.Place, len(layout.Pieces))
	headed := make([]quality.Headed, len(layout.Pieces))
	for i, p := range layout.Pieces {
		places[i] = neighbour.Place{Face: p.Face, At: p.At}
		headed[i] = quality.Headed{Heading: p.Heading, Flow: sweep.Angle, Offset: ks[p.Kind].Offset}
	}
	graph := neighbour.Of(places, nil)
	adjacent := func(i int) []int32 { return graph[i] }
	return quality.MeasureHeadings(headed, s, adjacent, quality.NearestOf(adjacent, func(i, j int) float64 {
		return places[i].At.Distance(places[j].At)
	}))
}

// TestHeadingsAreLaidAsAskedFor holds what is laid to the scheme: the share of each role is exact
// but for what chance makes of strays that head like others.
func TestHeadingsAreLaidAsAskedFor(t *testing.T) {
	calm := headingsOf(t, heading.Scheme{Spread: 10})
	assert.InEpsilon(t, 10, calm.Along, 0.15)
	assert.Less(t, calm.Strays, 0.02)
	mixed := headingsOf(t, heading.Scheme{Spread: 10, Strays: 0.15, Second: heading.Second{Turn: 120, Share: 0.25}})
	assert.InEpsilon(t, 10, mixed.Along, 0.2)
	assert.InDelta(t, 0.15, mixed.Strays, 0.05)
	assert.InDelta(t, 0.25, mixed.Second, 0.05)
	apart := headingsOf(t, heading.Scheme{Spread: 30, Apart: 15})
	assert.InEpsilon(t, 30, apart.Along, 0.2, "also where neighbours differ")
	assert.Greater(t, apart.Deviation, calm.Deviation)
	assert.Greater(t, apart.Apart, 0.55)
}
