// Package caution gathers what somebody has to know before the first hole is drilled.
//
// What it says are usual cautions and never clearance. The codes adopted where the wall stands, the
// papers of listed products and licensed trades decide; a wall without a caution is not a wall that
// was found safe.
package caution

import (
	"cmp"
	"slices"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// The severities of a caution.
const (
	Stop = "stop" // not to be hung as it is
	Ask  = "ask"  // to be found out before the first hole
	Note = "note" // to be kept in mind at work
)

// A Caution is one thing to know, and how much of the work it speaks of.
type Caution struct {
	Code     string // the rule it comes from, e.g. "cable-band"
	Severity string // Stop, Ask or Note
	Wall     string
	Face     string // empty where it speaks of the whole wall
	Pieces   int    // that it speaks of
	Holes    int    // that it speaks of
	What     string // what it is, a sentence
	Todo     string // what to do, a sentence
	Text     string // both, where it is and how it stands, in whole sentences
	Source   string

	Acknowledged *Acknowledgement // nil where nobody has decided about it; the text begins with it
}

// length returns a length as a caution states it: figure is how it does so in metric units.
func (l Limits) length(mm float64, figure string) string {
	if l.Units.Imperial() {
		return l.show(mm)
	}
	return figure
}

// show returns a length as a caution states it. In feet and inches it is to 1/16 in, however the limit was
// given: 10 mm is 3/8"; but what is less than that stays as it is.
func (l Limits) show(mm float64) string {
	if l.Units.Imperial() && mm >= 25.4/16 {
		return measure.Format(mm, l.Units)
	}
	return measure.Precise(mm, l.Units)
}

// Standing ends the text of every caution.
const Standing = "This is a usual caution, not clearance: " + whoDecides + "."

const whoDecides = "local codes and licensed trades decide"

// A Report is every caution of a work.
type Report struct {
	Cautions []Caution         // by severity, then wall and face as the site has them, then code and text
	Shares   []Share           // of every wall with pieces, as the site has them
	Unmet    []Acknowledgement // of cautions that are not there, as the limits have them
	ofHole   map[place][]string
}

// A place is a hole by the ID of its piece and its index there.
type place struct{ piece, hole int }

// OfHole returns the codes, sorted, of the cautions that speak of the one hole, given the ID of its
// piece and the hole's index there. Those that speak of a whole wall are not among them.
func (r Report) OfHole(piece, hole int) []string { return r.ofHole[place{piece, hole}] }

// Find returns every caution that applies to the layout. Every piece must have a kind, a face and an
// ID of its own.
func Find(site wall.Site, kinds []scatter.Kind, layout scatter.Layout, limits Limits) Report {
	g := gather(site, limits)
	pieces := slices.SortedFunc(slices.Values(layout.Pieces), func(a, b scatter.Piece) int { return cmp.Compare(a.ID, b.ID) })
	g.climb(pieces, kinds)
	for _, p := range pieces {
		g.alone(p, kinds)
	}
	g.anchors(pieces, kinds, limits)
	g.tooNear(pieces, kinds, limits)
	var shares []Share
	for w := range site.Room.Walls {
		on := piecesOn(site, pieces, w)
		g.ofWall(w, on, kinds, limits)
		if len(on) > 0 {
			shares = append(shares, g.share(w, on, kinds, limits))
		}
	}
	r := g.report()
	r.Shares, r.Unmet = shares, limits.unmet(r.Cautions)
	return r
}

// alone counts p for what depends on nothing but itself and its place.
func (g gathering) alone(p scatter.Piece, kinds []scatter.Kind) {
	noSurface := g.noSurface(p, kinds)
	forbidden := g.zones(p, kinds)
	if !noSurface && !forbidden {
		g.notFree(p, kinds)
	}
	g.glass(p, kinds)
	g.depths(p, kinds, g.limits)
	g.comesThrough(p, kinds, g.limits)
	g.deep(p, kinds, g.limits)
	g.built(p, kinds)
	g.loads(p, kinds, g.limits)
	g.overhead(p, kinds)
	g.heights(p, kinds, g.limits)
	g.inReach(p, kinds, g.limits)
}

func piecesOn(site wall.Site, pieces []scatter.Piece, w int) []scatter.Piece {
	var on []scatter.Piece
	for _, p := range pieces {
		if site.Faces[p.Face].Wall == w {
			on = append(on, p)
		}
	}
	return on
}

// A subject is what a caution speaks of. All pieces and holes with one subject make one caution.
type subject struct {
	severity   string
	wall, face int // face may be wholeWall
	code       string
	what, todo string // sentences
	source     string
}

// wholeWall stands for every face of a wall.
const wholeWall = -1

// A tally is what was found for one subject.
type tally struct {
	names  map[string]bool // of the zones, as the text has them
	from   map[string]bool // the zones and pieces that it comes from
	pieces int
	holes  []place // each once, those of a piece together
}

type gathering struct {
	site    wall.Site
	limits  Limits
	free    map[int]*plane.Index       // of each face that was asked about
	things  map[int][]wall.Obstruction // on each face that was asked about
	highest map[int]heights            // by wall, of those with holes that are high
	tallies map[subject]*tally
}

func gather(site wall.Site, limits Limits) gathering {
	return gathering{
		site: site, limits: limits, free: map[int]*plane.Index{}, things: map[int][]wall.Obstruction{}, highest: map[int]heights{},
		tallies: map[subject]*tally{},
	}
}

// freeOn returns where pieces may lie on the face, measured once for all of them.
func (g gathering) freeOn(face int) *plane.Index {
	free, known := g.free[face]
	if !known {
		free = plane.NewIndex(g.site.Faces[face].Free())
		g.free[face] = free
	}
	return free
}

// onFace returns the subject of a rule on the face of p.
func (g gathering) onFace(p scatter.Piece, severity, code, what, todo, source string) subject {
	return subject{severity, g.site.Faces[p.Face].Wall, p.Face, code, what, todo, source}
}

// tally returns what was found for s so far.
func (g gathering) tally(s subject) *tally {
	t, known := g.tallies[s]
	if !known {
		t = &tally{names: map[string]bool{}, from: map[string]bool{}}
		g.tallies[s] = t
	}
	return t
}

// add counts the hole of p with the given index towards s. Two zones may speak of one hole; as
// pieces come one after another, it is then among the last that were added.
func (g gathering) add(s subject, name string, p scatter.Piece, hole int) {
	t := g.tally(s)
	if name != "" {
		t.names[name] = true
	}
	last := len(t.holes) - 1
	if last < 0 || t.holes[last].piece != p.ID {
		t.pieces++
	}
	for ; last >= 0 && t.holes[last].piece == p.ID; last-- {
		if t.holes[last].hole == hole {
			return
		}
	}
	t.holes = append(t.holes, place{p.ID, hole})
}

// addAll counts p and all its holes towards s.
func (g gathering) addAll(s subject, name string, p scatter.Piece, kinds []scatter.Kind) {
	for i := range kinds[p.Kind].Holes {
		g.add(s, name, p, i)
	}
}

func (g gathering) report() Report {
	r := Report{ofHole: map[place][]string{}}
	for _, s := range g.sorted() {
		t := g.tallies[s]
		c := g.caution(s, t)
		if s.face != wholeWall {
			for _, at := range t.holes {
				r.ofHole[at] = append(r.ofHole[at], s.code)
			}
		}
		r.Cautions = append(r.Cautions, c)
	}
	for at, codes := range r.ofHole {
		slices.Sort(codes)
		r.ofHole[at] = slices.Compact(codes)
	}
	return r
}

// caution returns what a subject comes to.
func (g gathering) caution(s subject, t *tally) Caution {
	c := Caution{
		Code:     s.code,
		Severity: s.severity,
		Wall:     g.site.Room.Walls[s.wall].Name,
		Pieces:   t.pieces,
		Holes:    len(t.holes),
		What:     sentence(s.what),
		Todo:     sentence(s.todo),
		Source:   s.source,
	}
	if s.face != wholeWall {
		c.Face = g.site.Faces[s.face].Name
	}
	decided := ""
	if c.Acknowledged = g.limits.of(c); c.Acknowledged != nil {
		decided = "acknowledged by the " + c.Acknowledged.By + ": " + c.Acknowledged.Reason
	}
	c.Text = sentences(decided, s.what, where(t.names), s.todo, Standing)
	return c
}

func (g gathering) sorted() []subject {
	rank := []string{Stop, Ask, Note}
	all := make([]subject, 0, len(g.tallies))
	for s := range g.tallies {
		all = append(all, s)
	}
	slices.SortFunc(all, func(a, b subject) int {
		return cmp.Or(
			cmp.Compare(slices.Index(rank, a.severity), slices.Index(rank, b.severity)),
			cmp.Compare(a.wall, b.wall), cmp.Compare(a.face, b.face),
			cmp.Compare(a.code, b.code), cmp.Compare(a.what, b.what),
			cmp.Compare(a.todo, b.todo), cmp.Compare(a.source, b.source))
	})
	return all
}
