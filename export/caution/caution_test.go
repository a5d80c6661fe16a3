package caution

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

const (
	inch = 25.4
	foot = 12 * inch
)

// oneWall returns a plain wall, all of one face, with the zones given.
func oneWall(width, height float64, surface wall.Surface, zones ...wall.Zone) wall.Site {
	return wall.Site{
		Room: wall.Room{Datum: 1500, Walls: []wall.Wall{{Name: "Wall", Surface: surface}}},
		Faces: []wall.Face{{
			Name:    "wall",
			Frame:   space.Upright(space.Vec{}, 0),
			Outline: plane.RegionOf(plane.Rectangle(plane.Point{}, width, height)),
			Zones:   zones,
		}},
	}
}

// plate returns a kind that is a rectangle about its one hole.
func plate(width, height float64) scatter.Kind {
	return scatter.Kind{
		Name: "Plate", Code: "P",
		Outline: plane.Rectangle(plane.Point{X: -width / 2, Y: -height / 2}, width, height),
		Holes:   []scatter.Hole{{Bit: 1.5, Depth: 25, Fixing: "pin"}},
	}
}

// at returns pieces of the first kind, drawn as its outline is, one at each place.
func at(places ...plane.Point) scatter.Layout {
	var l scatter.Layout
	for i, p := range places {
		l.Pieces = append(l.Pieces, scatter.Piece{ID: i + 1, At: p, Heading: 90})
	}
	return l
}

func find(site wall.Site, kind scatter.Kind, l scatter.Layout) Report {
	return Find(site, []scatter.Kind{kind}, l, UsualLimits())
}

// ofCode returns the cautions of r with the code.
func ofCode(r Report, code string) []Caution {
	return slices.DeleteFunc(slices.Clone(r.Cautions), func(c Caution) bool { return c.Code != code })
}

func rectangle(x, y, width, height float64) plane.Region {
	return plane.RegionOf(plane.Rectangle(plane.Point{X: x, Y: y}, width, height))
}

// A wall of 12 by 9 ft has 108 sq ft, and a Letter sheet 0.6493: 10, 20 and 50 % of the wall take
// 16, 33 and 83 whole sheets.
func TestTheCombustibleShareOfAWall(t *testing.T) {
	tests := []struct {
		share  float64
		sheets int
	}{{0.10, 16}, {0.20, 33}, {0.50, 83}}
	for _, tt := range tests {
		sheet := plate(8.5*inch, 11*inch)
		sheet.Combustible = true
		limits := UsualLimits()
		limits.CombustibleShare = tt.share
		site := oneWall(12*foot, 9*foot, wall.Timber)
		places := slices.Repeat([]plane.Point{{X: 1000, Y: 1000}}, tt.sheets)

		within := Find(site, []scatter.Kind{sheet}, at(places...), limits)
		assert.Empty(t, ofCode(within, codeCombustible), "%d sheets", tt.sheets)

		over := ofCode(Find(site, []scatter.Kind{sheet}, at(append(places, places[0])...), limits), codeCombustible)
		require.Len(t, over, 1, "%d sheets", tt.sheets+1)
		assert.Equal(t, tt.sheets+1, over[0].Pieces)
		assert.Equal(t, Ask, over[0].Severity)
		assert.Empty(t, over[0].Face, "it speaks of the whole wall")

		sheet.Combustible = false
		metal := Find(site, []scatter.Kind{sheet}, at(append(places, places[0])...), limits)
		assert.Empty(t, ofCode(metal, codeCombustible), "what does not burn is not counted")
	}
}

func TestTheShareIsPrintedAsItIs(t *testing.T) {
	sheet := plate(500, 500)
	sheet.Combustible = true
	got := ofCode(find(oneWall(1000, 1000, wall.Timber), sheet, at(plane.Point{X: 500, Y: 500})), codeCombustible)
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Text, "cover 25.0 % of this wall, and 10.0 % is")
}

// Leading edges above 27 in and up to 80 in may stand 4 in into a way at most (ADA Standards 2010
// §307.2; 685, 2030 and 100 mm in IBC 2018 §1003.3.3).
func TestProtrudingObjects(t *testing.T) {
	band := wall.Zone{
		Code: "protruding", Shape: rectangle(0, 685, 4000, 2030-685), Strength: wall.Caution,
		Binds: wall.Projecting, Limit: 100, Reason: "people walk along here", Source: "ADA",
	}
	site := oneWall(4000, 2700, wall.Timber, band)
	tests := []struct {
		name     string
		y        float64
		standOff float64
		want     int
	}{
		{"flat", 1400, 18, 0},
		{"at the limit", 1400, 100, 0},
		{"above the limit", 1400, 100.5, 1},
		{"just under the band", 684 - 50, 300, 0},
		{"with its upper edge in the band", 686 - 50, 300, 1},
		{"over people's heads", 2031 + 50, 300, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			kind := plate(100, 100)
			kind.StandOff = tt.standOff
			got := ofCode(find(site, kind, at(plane.Point{X: 2000, Y: tt.y})), "protruding")
			require.Len(t, got, tt.want)
			if tt.want > 0 {
				assert.Contains(t, got[0].Text, "stands out more than 100 mm")
			}
		})
	}
}

// Between 6 and 12 in from the opening of a fire, what burns may stand out an eighth of its
// distance (IRC 2018 R1001.11, exception 4, as quoted in trade articles).
func TestProjectionNearAFire(t *testing.T) {
	eighths := []float64{6, 7, 8, 9, 10, 11, 12} // in; the limit is as many eighths
	for _, d := range eighths {
		limit := d / 8 * inch
		site := oneWall(4000, 2700, wall.Timber, wall.Zone{
			Code: "fire", Name: "fire opening", Shape: rectangle(1000, 0, 1000, 1000), Strength: wall.Forbidden,
			Binds: wall.Projecting, Limit: limit, Reason: "too near the fire", Source: "IRC",
		})
		kind := plate(20, 20)
		kind.StandOff = limit
		assert.Empty(t, ofCode(find(site, kind, at(plane.Point{X: 1500, Y: 900})), "fire"), "%v in", d)
		kind.StandOff = limit + inch/16
		got := ofCode(find(site, kind, at(plane.Point{X: 1500, Y: 900})), "fire")
		require.Len(t, got, 1, "%v in", d)
		assert.Equal(t, Stop, got[0].Severity)
		assert.Contains(t, got[0].Text, "Where: fire opening.")
	}
}

// Cables less than 50 mm deep usually run within 150 mm of the top of a wall or of a corner, or
// straight from an accessory (BS 7671:2018 regulation 522.6.202(i), as quoted in trade guides).
func TestCableBandsSpeakOfHoles(t *testing.T) {
	cable := func(name string, shape plane.Region) wall.Zone {
		return wall.Zone{
			Code: "cable-band", Name: name, Shape: shape, Strength: wall.Caution, Binds: wall.Holes,
			Reason: "cables are usually run here", Source: "BS 7671",
		}
	}
	site := oneWall(4000, 2700, wall.Timber,
		cable("top", rectangle(0, 2550, 4000, 150)),
		cable("left corner", rectangle(0, 0, 150, 2700)),
		cable("switch", rectangle(2957, 0, 86, 2700)),
	)
	l := at(
		plane.Point{X: 2000, Y: 2551}, // in the top band
		plane.Point{X: 149, Y: 1000},  // in the corner
		plane.Point{X: 100, Y: 2600},  // in both
		plane.Point{X: 2000, Y: 2549}, // its outline reaches into the top band, its hole does not
		plane.Point{X: 3000, Y: 300},  // under the switch
		plane.Point{X: 2950, Y: 1000}, // beside it
	)
	r := find(site, plate(60, 60), l)
	got := ofCode(r, "cable-band")
	require.Len(t, got, 1, "bands with one reason make one caution")
	assert.Equal(t, 4, got[0].Holes)
	assert.Equal(t, 4, got[0].Pieces)
	assert.Contains(t, got[0].Text, "Cables are usually run here. Where: left corner, switch, top. Find out what lies behind: have the circuits isolated and proved dead")
	for i, want := range []bool{true, true, true, false, true, false} {
		assert.Equal(t, want, slices.Contains(r.OfHole(i+1, 0), "cable-band"), "piece %d", i+1)
	}
}

func TestForbiddenZones(t *testing.T) {
	tests := []struct {
		binds       wall.Binding
		combustible bool
		offset      float64 // of the piece's middle from the edge of the zone; it is 100 wide
		want        int
	}{
		{wall.Pieces, false, 49, 1},
		{wall.Pieces, false, 51, 0},
		{wall.Holes, false, 49, 0},
		{wall.Holes, false, -1, 1},
		{wall.Combustible, false, 0, 0},
		{wall.Combustible, true, 49, 1},
	}
	for _, tt := range tests {
		site := oneWall(4000, 2700, wall.Timber, wall.Zone{
			Code: "keep-out", Shape: rectangle(0, 0, 1000, 2700), Strength: wall.Forbidden, Binds: tt.binds, Reason: "no",
		})
		kind := plate(100, 100)
		kind.Combustible = tt.combustible
		got := ofCode(find(site, kind, at(plane.Point{X: 1000 + tt.offset, Y: 1000})), "keep-out")
		require.Len(t, got, tt.want, "%s at %v", tt.binds, tt.offset)
		if tt.want > 0 {
			assert.Equal(t, Stop, got[0].Severity)
		}
	}
}

func TestAHoleBesideTheWallIsStopped(t *testing.T) {
	site := oneWall(1000, 1000, wall.Timber)
	r := find(site, plate(60, 60), at(plane.Point{X: 500, Y: 500}, plane.Point{X: 1001, Y: 500}))
	got := ofCode(r, "off-face")
	require.Len(t, got, 1)
	assert.Equal(t, 1, got[0].Holes)
	assert.Equal(t, Stop, got[0].Severity)
	assert.Equal(t, got[0], r.Cautions[0], "what stops the work comes first")
	assert.Contains(t, r.OfHole(2, 0), "off-face")
	assert.NotContains(t, r.OfHole(1, 0), "off-face")
}

func TestAHoleInAWindowIsStopped(t *testing.T) {
	site := oneWall(4000, 2700, wall.Timber)
	site.Room.Walls[0].Obstructions = []wall.Obstruction{
		{Kind: wall.Window, Name: "east window", Shape: plane.Rectangle(plane.Point{X: 1000, Y: 900}, 1000, 1000)},
		{Kind: wall.Pipe, Name: "gas", Shape: plane.Rectangle(plane.Point{X: 3000, Y: 0}, 30, 2700)},
	}
	r := find(site, plate(60, 60), at(plane.Point{X: 1500, Y: 1500}, plane.Point{X: 990, Y: 1500}, plane.Point{X: 3010, Y: 1500}))
	got := ofCode(r, "on-obstruction")
	require.Len(t, got, 1)
	assert.Equal(t, 1, got[0].Holes)
	assert.Equal(t, Stop, got[0].Severity)
	assert.Contains(t, got[0].Text, "Where: east window.")
	assert.Contains(t, r.OfHole(2, 0), "not-free", "beside the window the piece hangs over it")
}

func TestAReasonThatDefersDoesSoOnce(t *testing.T) {
	site := oneWall(4000, 2700, wall.Timber, wall.Zone{
		Code: "heat", Shape: rectangle(0, 0, 4000, 2700), Strength: wall.Caution, Binds: wall.Pieces,
		Reason: "it gets warm; local codes and licensed trades decide", Source: "common practice",
	})
	got := ofCode(find(site, plate(60, 60), at(plane.Point{X: 500, Y: 500})), "heat")
	require.Len(t, got, 1)
	assert.Equal(t, 1, strings.Count(got[0].Text, "licensed trades"))
}

func TestHeightIsAboveTheFloorOfTheRoom(t *testing.T) {
	site := oneWall(4000, 2700, wall.Timber)
	r := find(site, plate(60, 60), at(plane.Point{X: 500, Y: 2000}, plane.Point{X: 700, Y: 2000.1}))
	got := ofCode(r, "height")
	require.Len(t, got, 1)
	assert.Equal(t, 1, got[0].Holes)
	assert.NotContains(t, r.OfHole(1, 0), "height")
	assert.Contains(t, r.OfHole(2, 0), "height")

	site.Faces[0].Frame.Origin.Z = 1900 // a face that begins high up
	assert.Len(t, ofCode(find(site, plate(60, 60), at(plane.Point{X: 500, Y: 101})), "height"), 1)
}

// 1/2 in of board and 1-1/4 in of stud make 1-3/4 in (NEC 300.4(A)(1)).
func TestHolesThatGoDeepIntoABoardWall(t *testing.T) {
	kind := plate(60, 60)
	for _, tt := range []struct {
		surface wall.Surface
		depth   float64
		want    int
	}{
		{wall.Plasterboard, 44.4, 0},
		{wall.Plasterboard, 44.45, 0},
		{wall.Plasterboard, 45, 1},
		{wall.Brick, 80, 0},
	} {
		kind.Holes[0].Depth = tt.depth
		got := find(oneWall(4000, 2700, tt.surface), kind, at(plane.Point{X: 500, Y: 500}))
		assert.Len(t, ofCode(got, "deep-in-board"), tt.want, "%s, %v mm", tt.surface, tt.depth)
	}
}

func TestHolesThatComeThroughAScreen(t *testing.T) {
	kind := plate(60, 60)
	for _, tt := range []struct {
		thickness, depth float64
		back             bool
		want             int
	}{
		{40, 40, false, 0},
		{40, 41, false, 1},
		{40, 20, true, 0},
		{40, 21, true, 1},
		{0, 21, false, 0},
	} {
		kind.Holes[0].Depth = tt.depth
		site := oneWall(4000, 2700, wall.Timber)
		site.Room.Walls[0].Alone = &wall.Stand{Thickness: tt.thickness, Back: tt.back}
		got := find(site, kind, at(plane.Point{X: 500, Y: 500}))
		assert.Len(t, ofCode(got, "comes-through"), tt.want, "%+v", tt)
	}
}

func TestDustComesOfMineralSurfaces(t *testing.T) {
	for _, surface := range wall.Surfaces() {
		got := ofCode(find(oneWall(4000, 2700, surface), plate(60, 60), at(plane.Point{X: 500, Y: 500})), "mineral-dust")
		if surface == wall.Plasterboard || surface == wall.Timber {
			assert.Empty(t, got, surface)
			continue
		}
		require.Len(t, got, 1, surface)
		assert.Contains(t, got[0].Text, "Drilling "+string(surface)+" makes fine dust")
	}
}

func TestWeights(t *testing.T) {
	site := oneWall(4000, 2700, wall.Timber)
	kinds := []scatter.Kind{plate(60, 60), plate(50, 50), plate(40, 40)}
	kinds[0].Name, kinds[0].Weight = "Big", 900
	kinds[0].Holes = append(kinds[0].Holes, scatter.Hole{At: plane.Point{X: 10}})
	kinds[1].Name, kinds[1].Weight = "Small", 460
	kinds[2].Name = "Tin"
	l := at(plane.Point{X: 500, Y: 500}, plane.Point{X: 700, Y: 500}, plane.Point{X: 900, Y: 500})
	l.Pieces[1].Kind, l.Pieces[2].Kind = 1, 2

	got := ofCode(Find(site, kinds, l, UsualLimits()), "weight")
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Text, "weigh 1.36 kg in all, without Tin, whose weight is not given;")
	assert.Contains(t, got[0].Text, "is 460.0 g (Small)")
	assert.Equal(t, 4, got[0].Holes)

	l.Pieces = l.Pieces[2:]
	got = ofCode(Find(site, kinds, l, UsualLimits()), "weight")
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Text, "The plan gives no weight for the pieces on this wall. Weigh one of each kind")
}

func TestAWallWithoutPiecesHasNoCautions(t *testing.T) {
	assert.Empty(t, find(oneWall(4000, 2700, wall.Brick), plate(60, 60), scatter.Layout{}).Cautions)
}

func TestEveryCautionSaysWhatToDoAndWhereItStands(t *testing.T) {
	kind := plate(400, 400)
	kind.Combustible, kind.StandOff, kind.Holes[0].Depth = true, 200, 90
	var zones []wall.Zone
	for _, strength := range []wall.Strength{wall.Forbidden, wall.Caution} {
		for _, binds := range []wall.Binding{wall.Pieces, wall.Holes, wall.Combustible, wall.Projecting} {
			zones = append(zones, wall.Zone{
				Code: "zone", Name: "thing", Shape: rectangle(0, 0, 600, 2700), Strength: strength, Binds: binds,
				Limit: 100, Reason: "it is so", Source: "the plan",
			})
		}
	}
	var all []Caution
	for _, surface := range []wall.Surface{wall.Plasterboard, wall.Brick} {
		r := find(oneWall(1200, 2700, surface, zones...), kind, at(plane.Point{X: 500, Y: 2400}, plane.Point{X: -5, Y: 500}, plane.Point{X: 900, Y: 500}))
		all = append(all, r.Cautions...)
	}
	codes := map[string]bool{}
	for _, c := range all {
		codes[c.Code] = true
		assert.True(t, strings.HasSuffix(c.Text, ". "+Standing), c.Text)
		assert.NotContains(t, c.Text, "..")
		assert.NotContains(t, c.Text, "NaN")
		assert.NotEmpty(t, c.Source, c.Code)
		assert.Contains(t, []string{Stop, Ask, Note}, c.Severity)
		assert.Positive(t, c.Pieces)
		assert.Positive(t, c.Holes)
	}
	for _, code := range []string{"off-face", "not-free", "height", "deep-in-board", codeCombustible, "hidden-services", "old-finishes", "mineral-dust", "weight", "zone"} {
		assert.True(t, codes[code], code)
	}
}

func TestTheOrderPiecesAreWrittenInChangesNothing(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	zone := wall.Zone{Code: "zone", Name: "thing", Shape: rectangle(500, 500, 900, 900), Strength: wall.Caution, Binds: wall.Holes, Reason: "so"}
	site := oneWall(2000, 2700, wall.Plaster, zone)
	kinds := []scatter.Kind{plate(60, 40), plate(90, 30)}
	kinds[0].Combustible = true
	var l scatter.Layout
	for i := range 80 {
		l.Pieces = append(l.Pieces, scatter.Piece{
			ID: i + 1, Kind: rng.IntN(2), At: plane.Point{X: 2000 * rng.Float64(), Y: 2700 * rng.Float64()}.Snap(100),
		})
	}
	want := Find(site, kinds, l, UsualLimits())
	rng.Shuffle(len(l.Pieces), func(i, j int) { l.Pieces[i], l.Pieces[j] = l.Pieces[j], l.Pieces[i] })
	assert.Equal(t, want, Find(site, kinds, l, UsualLimits()))
}

func TestPiecesThatOverlap(t *testing.T) {
	site := oneWall(4000, 2500, wall.Timber)
	l := at(plane.Point{X: 1000, Y: 1000}, plane.Point{X: 1090, Y: 1000}, plane.Point{X: 1191, Y: 1000}, plane.Point{X: 3000, Y: 1000})
	r := find(site, plate(100, 50), l)
	overlaps := ofCode(r, CodeOverlap)
	require.Len(t, overlaps, 1)
	assert.Equal(t, Ask, overlaps[0].Severity)
	assert.Equal(t, [2]int{2, 2}, [2]int{overlaps[0].Pieces, overlaps[0].Holes}, "one and two")
	assert.Contains(t, overlaps[0].Text, "Pieces overlap: 1 and 2.")
	assert.Empty(t, ofCode(r, "crowded"), "no limit is set")
	assert.Contains(t, r.OfHole(1, 0), CodeOverlap)
	assert.NotContains(t, r.OfHole(3, 0), CodeOverlap)

	limits := UsualLimits()
	limits.Keep.Gap = 3
	crowded := ofCode(Find(site, []scatter.Kind{plate(100, 50)}, l, limits), "crowded")
	require.Len(t, crowded, 1)
	assert.Contains(t, crowded[0].Text, "nearer to one another than the plan asks: 2 and 3.", "1 mm apart")
}

func TestOnlyTheFirstPairsAreNamed(t *testing.T) {
	heap := make([]plane.Point, 5) // ten pairs
	for i := range heap {
		heap[i] = plane.Point{X: 1000 + float64(i), Y: 1000}
	}
	overlaps := ofCode(find(oneWall(4000, 2500, wall.Timber), plate(100, 50), at(heap...)), CodeOverlap)
	require.Len(t, overlaps, 1)
	assert.Equal(t, 5, overlaps[0].Pieces)
	assert.Contains(t, overlaps[0].Text, "1 and 2, 1 and 3, 1 and 4, 1 and 5, 2 and 3, 2 and 4, 4 more pairs.")
}
