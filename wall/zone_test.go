package wall_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// zonesOf returns the zones of f with that code.
func zonesOf(f wall.Face, code string) []wall.Zone {
	return slices.DeleteFunc(slices.Clone(f.Zones), func(z wall.Zone) bool { return z.Code != code })
}

// zone returns the only zone of f with that code and name.
func zone(t *testing.T, f wall.Face, code, name string) wall.Zone {
	t.Helper()
	found := slices.DeleteFunc(zonesOf(f, code), func(z wall.Zone) bool { return z.Name != name })
	require.Len(t, found, 1, "%s of %s", code, name)
	return found[0]
}

// BS 7671:2018 regulation 522.6.202(i): straight up, down and to the sides of an accessory, as
// wide as it is.
func TestCableBandsOfAnAccessory(t *testing.T) {
	f := survey(t, boxWall(0, rect(wall.Socket, 400, 300, 146, 86, 50)))
	z := zone(t, f, "cable-band", "the socket")
	assert.Equal(t, wall.Caution, z.Strength)
	assert.Equal(t, wall.Holes, z.Binds)
	assert.InDelta(t, 146*2500+86*4000-146*86, z.Shape.Area(), 1e-6)
	for _, p := range []plane.Point{{X: 473, Y: 2499}, {X: 473, Y: 1}, {X: 3999, Y: 343}, {X: 1, Y: 343}} {
		assert.True(t, z.Shape.Contains(p), "%v", p)
	}
	assert.False(t, z.Shape.Contains(plane.Point{X: 399, Y: 299}))
}

// The same regulation: within 150 mm of the top of the wall and of its corners.
func TestCableBandsAlongTheTopAndCorners(t *testing.T) {
	top := func(f wall.Face) plane.Region { return zone(t, f, "cable-band", "top of the wall").Shape }
	alone := survey(t, boxWall(0))
	assert.InDelta(t, 4000*150, top(alone).Area(), 1e-6)
	assert.Len(t, zonesOf(alone, "cable-band"), 1, "where a wall ends, nobody knows of a corner")

	open := room([]float64{3000, 3000, 3000}, []float64{90, 0, -90})
	site, err := wall.Survey(open)
	require.NoError(t, err)
	names := func(i int) []string {
		var all []string
		for _, z := range zonesOf(site.Faces[i], "cable-band") {
			all = append(all, z.Name)
		}
		return all
	}
	assert.Equal(t, []string{"top of the wall", "right corner"}, names(0))
	assert.Equal(t, []string{"top of the wall", "left corner"}, names(1), "walls in line make no corner")
	assert.Equal(t, []string{"top of the wall"}, names(2), "the last turn leads nowhere")
	right := zone(t, site.Faces[0], "cable-band", "right corner").Shape
	assert.Equal(t, plane.Rect{Min: plane.Point{X: 2850}, Max: plane.Point{X: 3000, Y: 2500}}, right.Bounds())

	site, err = wall.Survey(room([]float64{3000, 2000, 3000, 2000}, []float64{90, 90, 90, 90}))
	require.NoError(t, err)
	for i := range site.Faces {
		assert.Equal(t, []string{"top of the wall", "left corner", "right corner"}, names(i), "a closed room")
	}

	site, err = wall.Survey(room([]float64{3000, 2000, 3000, 1500}, []float64{90, 90, 90, 90}))
	require.NoError(t, err)
	assert.Equal(t, []string{"top of the wall", "right corner"}, names(0), "a room with a gap before the first wall")
	assert.Equal(t, []string{"top of the wall", "left corner"}, names(3))
}

// Under a slope the band is 150 mm deep square to the slope, and the foot has none.
func TestTheTopBandFollowsAGable(t *testing.T) {
	gable := wall.Wall{Name: "Gable", Outline: plane.Ring{
		{X: 0, Y: 0}, {X: 4000, Y: 0}, {X: 4000, Y: 1500}, {X: 2000, Y: 3000}, {X: 0, Y: 1500},
	}}
	band := zone(t, survey(t, gable), "cable-band", "top of the wall").Shape
	// Two parallelograms of 2500 mm (a 3-4-5 triangle) by 150 mm; they meet at the ridge.
	assert.InDelta(t, 2*2500*150, band.Area(), 1)
	assert.True(t, band.Contains(plane.Point{X: 1000, Y: 2250 - 180}))
	assert.False(t, band.Contains(plane.Point{X: 1000, Y: 2250 - 195}))
	assert.False(t, band.Contains(plane.Point{X: 2000, Y: 10}))
}

func TestKnownRunsForbidHoles(t *testing.T) {
	f := survey(t, boxWall(0, rect(wall.Pipe, 1000, 0, 22, 2500, 50), rect(wall.Cable, 0, 2000, 4000, 10, 30)))
	pipe, cable := zone(t, f, "pipe-run", "the pipe"), zone(t, f, "cable-run", "the cable")
	assert.Equal(t, wall.Forbidden, pipe.Strength)
	assert.InDelta(t, 122*2500, pipe.Shape.Area(), 0.1)
	assert.InDelta(t, 70*4000, cable.Shape.Area(), 0.1)

	free, err := f.FreeFor(wall.Load{})
	require.NoError(t, err)
	assert.Equal(t, f.Outline, free, "pieces may hang before what lies in the wall")
	drill, err := f.DrillFor(wall.Load{})
	require.NoError(t, err)
	assert.InDelta(t, 4000*2500-(122*2500+70*4000-122*70), drill.Area(), 0.1)

	boxed := rect(wall.Pipe, 1000, 0, 22, 2500, 50)
	boxed.Depth = 30
	f = survey(t, boxWall(0, boxed))
	assert.InDelta(t, (4000-122)*2500, f.Free().Area(), 0.1, "pieces keep off a pipe on the wall")
}

// IRC 2018 R1001.11 exception 4, as quoted in trade press: nothing that burns within 6 in of the
// opening, and from there to 12 in at most 1/8 in out for each inch of distance.
func TestFireplaces(t *testing.T) {
	f := survey(t, boxWall(0, rect(wall.Fireplace, 1500, 0, 900, 800, 0)))
	near, slope := zone(t, f, "fire-opening", "the fireplace"), zone(t, f, "fire-slope", "the fireplace")
	assert.Equal(t, wall.Forbidden, near.Strength)
	assert.Equal(t, wall.Caution, slope.Strength)
	for _, tt := range []struct {
		up          float64 // above the opening, mm
		close, sets bool
	}{{1, true, false}, {152, true, false}, {153, false, true}, {304, false, true}, {306, false, false}} {
		p := plane.Point{X: 1950, Y: 800 + tt.up}
		assert.Equal(t, tt.close, near.Shape.Contains(p), "%v mm above", tt.up)
		assert.Equal(t, tt.sets, slope.Shape.Contains(p), "%v mm above", tt.up)
	}
	assert.InDelta(t, 0.75*25.4, slope.Limit, 1e-9, "3/4 in out at 6 in")

	paper, tile := wall.Load{Combustible: true, StandOff: 10}, wall.Load{StandOff: 10}
	forPaper, err := f.FreeFor(paper)
	require.NoError(t, err)
	forTile, err := f.FreeFor(tile)
	require.NoError(t, err)
	assert.Equal(t, f.Free(), forTile)
	// Round corners are drawn with 32 sides to the quarter.
	want := 900*800 + 900*152.4 + 2*800*152.4 + 32*math.Sin(2*math.Pi/128)*152.4*152.4
	assert.InDelta(t, 4000*2500-want, forPaper.Area(), 0.5)
}

func TestWhatAZoneConcerns(t *testing.T) {
	paper, tile, relief := wall.Load{Combustible: true, StandOff: 5}, wall.Load{StandOff: 5}, wall.Load{StandOff: 120}
	tests := []struct {
		zone                wall.Zone
		paper, tile, relief bool
	}{
		{wall.Zone{Binds: wall.Pieces}, true, true, true},
		{wall.Zone{Binds: wall.Holes}, false, false, false},
		{wall.Zone{Binds: wall.Combustible}, true, false, false},
		{wall.Zone{Binds: wall.Combustible, Limit: 5}, false, false, false},
		{wall.Zone{Binds: wall.Combustible, Limit: 4.9}, true, false, false},
		{wall.Zone{Binds: wall.Projecting, Limit: 100}, false, false, true},
		{wall.Zone{Binds: wall.Projecting, Limit: 120}, false, false, false},
		{wall.Zone{}, false, false, false},
	}
	for _, tt := range tests {
		assert.Equal(t, tt.paper, tt.zone.Concerns(paper), "%+v and paper", tt.zone)
		assert.Equal(t, tt.tile, tt.zone.Concerns(tile), "%+v and tile", tt.zone)
		assert.Equal(t, tt.relief, tt.zone.Concerns(relief), "%+v and relief", tt.zone)
	}
}

// ADA Standards 2010 §307.2: from 27 to 80 in above the floor, at most 4 in out.
func TestRouteProjection(t *testing.T) {
	z := zone(t, survey(t, boxWall(0)), "route-projection", "walking height")
	assert.Equal(t, plane.Rect{Min: plane.Point{Y: 685}, Max: plane.Point{X: 4000, Y: 2030}}, z.Shape.Bounds())
	assert.Equal(t, 100.0, z.Limit)
	assert.Equal(t, wall.Projecting, z.Binds)

	low := boxWall(0)
	low.Outline = plane.Rectangle(plane.Point{}, 4000, 600)
	assert.Empty(t, zonesOf(survey(t, low), "route-projection"), "a plinth ends below")
}

// IFC 2018 §604.3: 30 in wide and 78 in high before electrical panels.
func TestPanelSpace(t *testing.T) {
	z := zone(t, survey(t, boxWall(0, rect(wall.Panel, 1800, 1200, 400, 600, 50))), "panel-space", "the panel")
	b := z.Shape.Bounds()
	assert.InDelta(t, 762, b.Width(), 1e-9)
	assert.InDelta(t, 78*25.4, b.Height(), 1e-9)
	assert.Equal(t, 2000.0, b.Centre().X)
}

func TestWhichRuleSpeaksOfWhichKind(t *testing.T) {
	always := []string{"cable-band", "route-projection"}
	tests := map[wall.ObstructionKind][]string{
		wall.Switch: nil, wall.Socket: nil, wall.Panel: {"panel-space"},
		wall.Cable: {"cable-run"}, wall.Pipe: {"pipe-run"},
		wall.Fireplace: {"fire-opening", "fire-slope"},
		wall.Flue:      {"heat"}, wall.Radiator: {"heat"}, wall.Lamp: {"heat"},
		wall.ExitSign: {"keep-visible"}, wall.ExitDoor: {"keep-visible"}, wall.Extinguisher: {"keep-visible"},
		wall.CallPoint: {"keep-visible"}, wall.Alarm: {"keep-visible"}, wall.Detector: {"detector-air"},
		wall.Sprinkler: {"sprinkler-space"},
	}
	for _, kind := range wall.ObstructionKinds() {
		f := survey(t, boxWall(0, rect(kind, 1800, 1000, 200, 300, wall.Rule(kind).Clearance)))
		var codes []string
		for _, z := range f.Zones {
			codes = append(codes, z.Code)
		}
		slices.Sort(codes)
		want := append(slices.Clone(always), tests[kind]...)
		slices.Sort(want)
		assert.Equal(t, want, slices.Compact(codes), "%s", kind)
	}
}

// The plan's own zones come first, clipped to the wall, and bind like any other.
func TestMarkedZones(t *testing.T) {
	w := boxWall(0)
	w.Marked = []wall.Zone{
		{Code: "zone", Name: "plaque", Shape: plane.RegionOf(plane.Rectangle(plane.Point{X: 3500, Y: 2000}, 1000, 1000)), Strength: wall.Forbidden, Binds: wall.Pieces, Reason: "a plaque comes here"},
		{Code: "zone", Name: "elsewhere", Shape: plane.RegionOf(plane.Rectangle(plane.Point{X: 9000}, 100, 100)), Strength: wall.Forbidden, Binds: wall.Pieces},
		{Code: "zone", Name: "soft board", Shape: plane.RegionOf(plane.Rectangle(plane.Point{}, 1000, 1000)), Strength: wall.Forbidden, Binds: wall.Holes},
		{Code: "zone", Name: "desk", Shape: plane.RegionOf(plane.Rectangle(plane.Point{X: 1000}, 1000, 700)), Strength: wall.Forbidden, Binds: wall.Projecting, Limit: 30},
		{Code: "zone", Name: "glare", Shape: plane.RegionOf(plane.Rectangle(plane.Point{X: 2000}, 500, 500)), Strength: wall.Caution, Binds: wall.Pieces},
	}
	f := survey(t, w)
	require.Len(t, zonesOf(f, "zone"), 4, "what lies off the wall is left out")
	assert.Equal(t, "plaque", f.Zones[0].Name)
	assert.InDelta(t, 500*500, f.Zones[0].Shape.Area(), 1e-6)
	assert.InDelta(t, 4000*2500-500*500, f.Free().Area(), 1e-6, "a caution takes nothing away")

	flat, err := f.FreeFor(wall.Load{StandOff: 30})
	require.NoError(t, err)
	assert.Equal(t, f.Free(), flat)
	deep, err := f.FreeFor(wall.Load{StandOff: 31})
	require.NoError(t, err)
	assert.InDelta(t, f.Free().Area()-1000*700, deep.Area(), 1e-6)
	drill, err := f.DrillFor(wall.Load{StandOff: 31})
	require.NoError(t, err)
	assert.InDelta(t, deep.Area()-1000*1000, drill.Area(), 1e-6)

	assert.Equal(t, 1000.0, w.Marked[0].Shape.Bounds().Width(), "the room is left as it was")
}

func TestEveryKindHasARule(t *testing.T) {
	kinds := wall.ObstructionKinds()
	assert.True(t, slices.IsSorted(kinds))
	for _, k := range kinds {
		r := wall.Rule(k)
		assert.Equal(t, k, r.Kind)
		assert.Positive(t, r.Clearance)
		assert.NotEmpty(t, r.Source)
	}
	assert.Zero(t, wall.Rule("trapdoor"))
}
