package plan_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/examples"
	"wallshoal/export/caution"
	"wallshoal/wall"
	"wallshoal/wall/measure"
)

// cautious returns the reading room's plan, which is in feet and inches, with a section of cautions in
// place of its own, the last.
func cautious(section string) []byte {
	plan, _, _ := strings.Cut(examples.ReadingRoom, "\ncautions:")
	return []byte(plan + "\ncautions:\n" + section + "\n")
}

const everyCaution = `  cable-edge: 6 in
  cable-width: 90 mm
  cable-depth: 60 mm
  far-side: 4 in
  far-cover: 1 in
  board-cover: 5/8 in
  stud-cover: 1-1/4 in
  fire-rule: 150mm
  heat: 200 mm
  visible: 1 ft
  detector: 3 ft
  sprinkler: 18 in
  panel-width: 30 in
  panel-top: 78 in
  route-from: 27 in
  route-to: 80 in
  route-out: 4 in
  low: 3 ft
  low-out: 1/2 in
  sharp-to: 7 ft
  ladder-rule: along
  combustible-share: 20 %
  anchor-edge: 60 mm
  anchor-spacing: 120 mm
  anchor-from: 5 mm
  acknowledged:
    - {caution: heat, reason: "the radiator is off for good", by: building manager}`

func TestTheFiguresOfCautions(t *testing.T) {
	p, err := plan.Read("p.yaml", cautious(everyCaution))
	require.NoError(t, err)
	assert.Equal(t, wall.Rules{
		CableEdge: 152.4, CableWidth: 90, FarSide: 101.6, Fire: wall.FireMetric, Heat: 200, Visible: 304.8, Detector: 914.4,
		Sprinkler: 457.2, PanelWidth: 762, PanelTop: 1981.2, RouteFrom: 685.8, RouteTo: 2032, RouteOut: 101.6, Units: p.Units,
	}, p.Room.Rules)
	assert.True(t, p.Units.Imperial())
	c := p.Cautions
	assert.Equal(t, []float64{0.2, 15.875, 31.75, 25.4, 60, 60, 120, 5},
		[]float64{c.CombustibleShare, c.BoardCover, c.StudCover, c.FarCover, c.CableDepth, c.AnchorEdge, c.AnchorSpacing, c.AnchorFrom})
	assert.Equal(t, 47.625, c.BoardDepth(), "5/8 in of board and 1-1/4 in (NEC 300.4(A)(1)) are 1-7/8 in (computed)")
	assert.Equal(t, []float64{914.4, 12.7, 2133.6}, []float64{c.Low, c.LowOut, c.SharpTo})
	assert.Equal(t, caution.LadderAlong, c.LadderRule)
	assert.Equal(t, []caution.Acknowledgement{{Code: "heat", Reason: "the radiator is off for good", By: "building manager"}}, c.Acknowledged)

	p, err = plan.Read("p.yaml", []byte(sound))
	require.NoError(t, err)
	assert.Equal(t, wall.Rules{Units: measure.Millimetre}, p.Room.Rules, "what is usual")
	usual := caution.UsualLimits()
	usual.Units = measure.Millimetre
	assert.Equal(t, usual, p.Cautions)
}

func TestFaultsInCautions(t *testing.T) {
	for section, want := range map[string]string{
		"  heat: 0":                                       "cautions.heat",
		"  heat: warm":                                    "cautions.heat",
		"  hear: 150 mm":                                  "did you mean heat?",
		"  fire-rule: none":                               "is not a rule for fireplaces",
		"  ladder-rule: steep":                            "is not a rule for ladders",
		"  ladder-rule: 1 in 4":                           "did you mean up?",
		"  board-depth: 2 in":                             "cautions.board-depth",
		"  low: -1 ft":                                    "cautions.low",
		"  sharp-to: high":                                "cautions.sharp-to",
		"  far-cover: 0":                                  "cautions.far-cover",
		"  stud-cover: 1 furlong":                         "cautions.stud-cover",
		"  anchor-from: 4 pints":                          "cautions.anchor-from",
		"  combustible-share: 120 %":                      "cautions.combustible-share",
		"  route-from: 90 in":                             "ends below where it begins",
		"  ratings: [{fixing: glue, holds: 50}]":          "is the fixing of no hole",
		"  acknowledged: [{caution: heat, by: me}]":       "cautions.acknowledged[0].reason",
		"  acknowledged: [{caution: heat, reason: cold}]": "cautions.acknowledged[0].by",
		"  acknowledged: [{caution: heet, reason: cold, by: me}]":          "did you mean heat?",
		"  acknowledged: [{caution: heat, wall: Roof, reason: a, by: me}]": "is not the name of a wall",
	} {
		_, err := plan.Read("p.yaml", cautious(section))
		assert.ErrorContains(t, err, want, section)
	}
}

func FuzzCautions(f *testing.F) {
	f.Add(everyCaution)
	f.Add("  ratings: [{fixing: pin, holds: 50, factor: 2}]")
	f.Fuzz(func(t *testing.T, section string) {
		if len(section) > 1<<12 {
			t.Skip("long")
		}
		p, err := plan.Read("p.yaml", cautious(section))
		if err == nil {
			_, err := wall.Survey(p.Room)
			require.NoError(t, err)
		}
	})
}
