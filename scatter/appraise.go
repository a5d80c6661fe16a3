package scatter

import (
	"context"
	"math"

	"wallshoal/scatter/heading"
	"wallshoal/scatter/quality"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// An Appraisal is what came of a composition, to be held against what was asked. A measure for which
// there are too few pieces is 0.
type Appraisal struct {
	Pieces, Asked int
	Faces         []FaceTally // those that are used or carry pieces, in the order of the site
	Kinds         []KindTally // parallel to the kinds
	Evenness      Evenness
	Direction     Direction
	Density       DensityKept
}

// A FaceTally counts the pieces of a face.
type FaceTally struct {
	Face   int // index into the faces of the site
	Pieces int
	Kinds  []int // pieces of each kind
}

// A KindTally counts the pieces of a kind.
type KindTally struct{ Pieces, Asked int }

// Evenness says how evenly centres are spread over what is free of the faces that are used or carry
// pieces.
type Evenness struct {
	Closest        float64 // distance of the two closest, mm
	MeanNearest    float64 // distance to the nearest, on average, mm
	ClarkEvans     float64 // see quality.ClarkEvans
	RelativeRadius float64 // see quality.RelativeRadius
}

// Direction says how headings lie about the flow. Pieces of a kind that is turned from the flow are
// measured from where they should head, and where there is a second direction all are measured from
// the nearer one.
type Direction struct {
	Off     float64 // how far off the flow pieces head on average, degrees
	Spread  float64 // circular standard deviation of those that are no strays, as Headings.Spread has it, degrees
	Against int     // pieces that head more than 90° off
}

// DensityKept says how closely the pieces keep to the density asked for.
type DensityKept struct {
	Patches    int     // of the faces, that were compared; 0 where there are too few pieces
	Dispersion float64 // see quality.DispersionIndex
	Displaced  float64 // see quality.Displaced
}

// Appraise measures a layout, of which every piece must have a kind and a face. The error is a
// wall.Problem where the kinds' counts contradict the composition's, that of a site that cannot be
// measured, or ctx's.
func Appraise(ctx context.Context, site wall.Site, kinds []Kind, comp Composition, layout Layout) (Appraisal, error) {
	quotas, err := Quotas(kinds, comp.Count)
	if err != nil {
		return Appraisal{}, err
	}
	a := appraiser{site: site, kinds: kinds, comp: comp, pieces: layout.Pieces}
	out := Appraisal{
		Pieces: len(layout.Pieces), Asked: comp.Count,
		Faces: a.faces(), Kinds: make([]KindTally, len(kinds)), Evenness: a.evenness(),
	}
	for i, q := range quotas {
		out.Kinds[i].Asked = q
	}
	for _, p := range layout.Pieces {
		out.Kinds[p.Kind].Pieces++
	}
	if out.Direction, err = a.direction(ctx); err != nil {
		return Appraisal{}, err
	}
	out.Density, err = a.density()
	return out, err
}

// An appraiser measures one layout.
type appraiser struct {
	site   wall.Site
	kinds  []Kind
	comp   Composition
	pieces []Piece
}

// faces counts the pieces face by face.
func (a *appraiser) faces() []FaceTally {
	counts := make([]FaceTally, len(a.site.Faces))
	for i := range counts {
		counts[i] = FaceTally{Face: i, Kinds: make([]int, len(a.kinds))}
	}
	for _, p := range a.pieces {
		counts[p.Face].Pieces++
		counts[p.Face].Kinds[p.Kind]++
	}
	var out []FaceTally
	for i, c := range counts {
		if c.Pieces > 0 || a.site.Faces[i].Used {
			out = append(out, c)
		}
	}
	return out
}

// places returns where the centres are.
func (a *appraiser) places() []quality.Place {
	places := make([]quality.Place, len(a.pieces))
	for i, p := range a.pieces {
		places[i] = quality.Place{Face: p.Face, At: p.At}
	}
	return places
}

func (a *appraiser) evenness() Evenness {
	if len(a.pieces) < 2 {
		return Evenness{}
	}
	distances := quality.NearestDistances(a.site, a.places())
	free := 0.0
	for _, f := range a.faces() {
		free += a.site.Faces[f.Face].Free().Area()
	}
	e := Evenness{Closest: quality.Closest(distances)}
	for _, d := range distances {
		e.MeanNearest += d / float64(len(distances))
	}
	if math.IsInf(e.MeanNearest, 1) { // the only piece of a face that no distance leads to
		return Evenness{}
	}
	if free > 0 {
		e.ClarkEvans = quality.ClarkEvans(distances, float64(len(a.pieces))/free)
		e.RelativeRadius = quality.RelativeRadius(e.Closest, len(a.pieces), free)
	}
	return e
}

func (a *appraiser) direction(ctx context.Context) (Direction, error) {
	if len(a.pieces) == 0 {
		return Direction{}, nil
	}
	flows, err := a.flows(ctx)
	if err != nil {
		return Direction{}, err
	}
	var d Direction
	along := 0.0 // the sum of the cosines
	for i, p := range a.pieces {
		off := a.off(p, flows[i])
		d.Off += off / float64(len(a.pieces))
		along += math.Cos(off * math.Pi / 180)
		if off > 90 {
			d.Against++
		}
	}
	// Strays head anywhere and add nothing to the sum, on average. The resultant of the others and their
	// circular standard deviation σ go by R = exp(-σ²/2).
	if rest := float64(len(a.pieces)) * (1 - a.comp.Headings.Strays); rest > 0 {
		resultant := math.Min(1, math.Max(along/rest, 1e-4))
		d.Spread = math.Sqrt(-2*math.Log(resultant)) * 180 / math.Pi
	}
	return d, nil
}

// off returns how many degrees a piece heads off the flow, which runs at the given angle in radians,
// or off the second direction where that is nearer.
func (a *appraiser) off(p Piece, flow float64) float64 {
	offset := a.kinds[p.Kind].Offset
	off := heading.Difference(p.Heading, heading.FromAngle(flow-offset*math.Pi/180))
	if second := a.comp.Headings.Second; second.Share > 0 {
		off = math.Min(off, heading.Difference(p.Heading, heading.FromAngle(flow-(offset+second.Turn)*math.Pi/180)))
	}
	return off
}

// flows returns the direction of the flow at every piece, in radians, as it was when they were laid.
func (a *appraiser) flows(ctx context.Context) ([]float64, error) {
	g := &ground{site: a.site}
	charts := make([]int, len(a.site.Faces)) // one more than the index of the face's chart
	for i, f := range a.site.Faces {
		if f.Used && !f.Free().Empty() {
			g.faces = append(g.faces, i)
			charts[i] = len(g.faces)
		}
	}
	if a.comp.Part {
		if err := g.part(ctx, a.comp.Flow); err != nil {
			return nil, err
		}
	}
	flows := make([]float64, len(a.pieces))
	for i, p := range a.pieces {
		way := a.comp.Flow.At(a.site.Faces[p.Face].Frame, p.At)
		if chart := charts[p.Face]; a.comp.Part && chart > 0 {
			way = way.Add(g.parted[chart-1].At(p.At))
		}
		flows[i] = way.Angle()
	}
	return flows, nil
}

// density compares the pieces with the density asked for over all that is free for their centres.
func (a *appraiser) density() (DensityKept, error) {
	core := math.Inf(1)
	for _, k := range a.kinds {
		core = math.Min(core, math.Max(0, plane.RegionOf(k.Outline).Distance(plane.Point{})))
	}
	var areas []quality.Area
	for i, f := range a.site.Faces {
		if !f.Used || f.Free().Empty() {
			continue
		}
		centres, err := f.Free().Grow(-core)
		if err != nil {
			return DensityKept{}, err
		}
		areas = append(areas, quality.Area{Face: i, Region: centres})
	}
	patches := quality.Patches(areas, a.places(), func(p quality.Place) float64 {
		return a.comp.Density.At(a.site.Faces[p.Face].Frame, p.At)
	})
	return DensityKept{len(patches), quality.DispersionIndex(patches), quality.Displaced(patches)}, nil
}
