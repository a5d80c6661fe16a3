package scatter

import (
	"cmp"
	"context"
	"math"
	"slices"

	"wallshoal/scatter/neighbour"
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
	Headings      quality.Headings
	Mixture       Mixture
	Density       DensityKept
	Seated        int // pieces that stand otherwise than they were thrown; known only of a layout just laid
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
	Closest     float64 // distance of the two closest, mm
	MeanNearest float64 // distance to the nearest, on average, mm
	// ClarkEvans is quality.ClarkEvans with each distance held against chance in the density that is
	// asked for at its place, so that pieces that gather where they are to are no less even.
	ClarkEvans     float64
	RelativeRadius float64 // see quality.RelativeRadius
}

// A Mixture says how kinds lie among one another. Kinds that are forms or sizes of the same count as
// one.
type Mixture struct {
	Kinds   int          // how many there are of which pieces hang
	Pairs   int          // of neighbours, see neighbour.Of
	Equal   quality.Join // those of them that are of one kind
	Company float64      // see quality.Company
	Drift   float64      // see quality.Drift; 0 where the flow leads nowhere
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
	a.graph = neighbour.Of(a.spots(), openIn(a.free))
	out := Appraisal{
		Pieces: len(layout.Pieces), Asked: comp.Count,
		Faces: a.faces(), Kinds: make([]KindTally, len(kinds)),
		Evenness: a.evenness(), Mixture: a.mixture(), Seated: len(layout.Seated),
	}
	for i, q := range quotas {
		out.Kinds[i].Asked = q
	}
	for _, p := range layout.Pieces {
		out.Kinds[p.Kind].Pieces++
	}
	if out.Headings, err = a.headings(ctx); err != nil {
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
	graph  neighbour.Graph
	frees  map[int]*plane.Index // by face, of those that were asked for
}

// spots returns where the centres are, for neighbours.
func (a *appraiser) spots() []neighbour.Place {
	spots := make([]neighbour.Place, len(a.pieces))
	for i, p := range a.pieces {
		spots[i] = neighbour.Place{Face: p.Face, At: p.At}
	}
	return spots
}

// free returns what is free of a face for pieces.
func (a *appraiser) free(face int) *plane.Index {
	if a.frees[face] == nil {
		if a.frees == nil {
			a.frees = map[int]*plane.Index{}
		}
		a.frees[face] = plane.NewIndex(a.site.Faces[face].Free())
	}
	return a.frees[face]
}

// adjacent returns the neighbours of a piece.
func (a *appraiser) adjacent(i int) []int32 { return a.graph[i] }

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
	free, weight := 0.0, 0.0
	for _, f := range a.faces() {
		free += a.site.Faces[f.Face].Free().Area()
		weight += sum(a.site.Faces[f.Face], a.comp.Density)
	}
	e := Evenness{Closest: quality.Closest(distances)}
	for _, d := range distances {
		e.MeanNearest += d / float64(len(distances))
	}
	if math.IsInf(e.MeanNearest, 1) { // the only piece of a face that no distance leads to
		return Evenness{}
	}
	if free > 0 && weight > 0 {
		for i, p := range a.pieces {
			asked := a.comp.Density.At(a.site.Faces[p.Face].Frame, p.At) / weight * float64(len(a.pieces))
			e.ClarkEvans += quality.ClarkEvans(distances[i:i+1], asked) / float64(len(a.pieces))
		}
		e.RelativeRadius = quality.RelativeRadius(e.Closest, len(a.pieces), free)
	}
	return e
}

// headings measures the headings against the flow and against one another.
func (a *appraiser) headings(ctx context.Context) (quality.Headings, error) {
	flows, err := a.flows(ctx)
	if err != nil {
		return quality.Headings{}, err
	}
	headed := make([]quality.Headed, len(a.pieces))
	for i, p := range a.pieces {
		headed[i] = quality.Headed{Heading: p.Heading, Flow: flows[i], Offset: a.kinds[p.Kind].Offset}
	}
	nearest := quality.NearestOf(a.adjacent, func(i, j int) float64 { return a.pieces[i].At.Distance(a.pieces[j].At) })
	return quality.MeasureHeadings(headed, a.comp.Headings, a.adjacent, nearest), nil
}

// mixture measures how kinds lie among one another.
func (a *appraiser) mixture() Mixture {
	var names []string
	of := make([]int, len(a.kinds)) // the number of what each kind is a form or size of
	for i, k := range a.kinds {
		name := cmp.Or(k.Of, k.Name)
		if of[i] = slices.Index(names, name); of[i] < 0 {
			of[i] = len(names)
			names = append(names, name)
		}
	}
	hang := make([]bool, len(names))
	kinds, progress := make([]int, len(a.pieces)), make([]float64, len(a.pieces))
	for i, p := range a.pieces {
		kinds[i] = of[p.Kind]
		hang[of[p.Kind]] = true
		progress[i], _ = a.comp.Flow.Progress(a.site.Faces[p.Face].Frame, p.At)
	}
	m := Mixture{
		Pairs: a.graph.Edges(), Equal: quality.CountJoins(a.graph, kinds, len(names)).Equal,
		Company: quality.Company(quality.Groups(a.graph, kinds)), Drift: quality.Drift(progress, kinds),
	}
	for _, h := range hang {
		if h {
			m.Kinds++
		}
	}
	return m
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
