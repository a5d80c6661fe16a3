package knob

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/scatter"
	"wallshoal/scatter/neighbour"
	"wallshoal/scatter/quality"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// An Idleness says which way a knob can be turned without anything coming of it.
type Idleness int

// Any way does something as far as is known, a lower value does nothing, or no value does.
const (
	Busy Idleness = iota
	IdleBelow
	Idle
)

// A Remark is what is to be known of a knob in the work as it is.
type Remark struct {
	Text string
	Idle Idleness
}

// Remarks returns what is to be said of the knobs of a job by their IDs, given a layout of it. Only of one that is
// laid, just as the plan comes to it with nothing moved by hand since, can it be told what another value would not
// change: any value would lay all anew.
func Remarks(j job.Job, text []byte, layout scatter.Layout, laid bool) map[string]Remark {
	r := &remarker{board: &board{job: j, units: j.Plan.Units, root: rootOf(text)}, layout: layout, said: map[string]Remark{}}
	r.numbers()
	if laid {
		r.distances()
		r.seating()
		r.kinds()
		r.headings()
		r.flow()
		r.density()
	}
	return r.said
}

// A remarker gathers remarks.
type remarker struct {
	*board
	layout scatter.Layout
	said   map[string]Remark
}

func (r *remarker) say(field string, idle Idleness, format string, args ...any) {
	r.said[field] = Remark{fmt.Sprintf(format, args...), idle}
}

// numbers tells where more or fewer pieces hang than are asked for.
func (r *remarker) numbers() {
	p := r.job.Plan
	if hang := len(r.layout.Pieces); hang != p.Composition.Count {
		r.say("composition.count", Busy, "the plan asks for %d, and %d are on the walls", p.Composition.Count, hang)
	}
	asked, err := scatter.Quotas(p.Kinds, p.Composition.Count)
	if err != nil {
		return
	}
	for i, f := range r.items("pieces") {
		want, hang := 0, 0
		for k, kind := range p.Kinds {
			if kind.Of != r.kind(i) {
				continue
			}
			want += asked[k]
			for _, piece := range r.layout.Pieces {
				if piece.Kind == k {
					hang++
				}
			}
		}
		if want != hang && r.node(f+".count") != nil {
			r.say(f+".count", Busy, "the plan asks for %d, and %d are on the walls", want, hang)
		}
	}
}

// near is by how much what pieces keep must pass what is asked for that to be known to have no say: what was tried
// and given up cannot be seen.
const near = 1.05

// distances tells what pieces keep from one another anyway.
func (r *remarker) distances() {
	c := r.job.Plan.Composition
	places := make([]neighbour.Place, len(r.layout.Pieces))
	for i, p := range r.layout.Pieces {
		places[i] = neighbour.Place{Face: p.Face, At: p.At}
	}
	if len(places) < 2 {
		for _, field := range []string{"composition.spacing", "composition.gap"} {
			r.say(field, Idle, "there is nothing to keep a distance from")
		}
		return
	}
	closest := slices.Min(quality.NearestDistances(r.job.Site, places))
	if closest > near*c.Spacing && !math.IsInf(closest, 1) {
		r.say("composition.spacing", IdleBelow, "the %d pieces stand %s or more apart anyway: a spacing below that changes nothing", len(places), r.length(closest))
	}
	outlines, holes := r.closest()
	if c.Overlap == 0 && outlines > near*c.Gap {
		// Pieces that were thrown too near and given up cannot be seen, so no more is claimed.
		r.say("composition.gap", Busy, "as the pieces lie, their outlines are %s or more apart: a gap below that changes little", r.length(outlines))
	}
	if holes > near*c.Seating.Holes {
		r.say("composition.seating.holes", IdleBelow, "holes of different pieces are %s or more apart anyway: a distance below that changes nothing", r.length(holes))
	}
}

// length writes a length as it is told, rounded down.
func (r *remarker) length(mm float64) string {
	if mm >= 10 && !r.units.Imperial() {
		mm = math.Floor(mm)
	}
	return measure.Precise(mm, r.units)
}

// farthest is up to which distance the closest outlines and holes are looked for, mm.
const farthest = 300

// closest returns how close outlines of two pieces of a face come, and holes of theirs; at most farthest.
func (r *remarker) closest() (outlines, holes float64) {
	type lain struct {
		face  int
		ring  plane.Ring
		box   plane.Rect
		holes []plane.Point
	}
	kinds := r.job.Plan.Kinds
	all := make([]lain, len(r.layout.Pieces))
	for i, p := range r.layout.Pieces {
		ring := p.Outline(kinds)
		all[i] = lain{p.Face, ring, ring.Bounds(), nil}
		for h := range kinds[p.Kind].Holes {
			all[i].holes = append(all[i].holes, p.HoleAt(kinds, h))
		}
	}
	slices.SortFunc(all, func(a, b lain) int {
		return cmp.Or(cmp.Compare(a.face, b.face), cmp.Compare(a.box.Min.X, b.box.Min.X))
	})
	outlines, holes = farthest, farthest
	for i, a := range all {
		for _, b := range all[i+1:] {
			if b.face != a.face || b.box.Min.X-a.box.Max.X >= max(outlines, holes) {
				break
			}
			if !a.box.Grow(max(outlines, holes)).Overlaps(b.box) {
				continue
			}
			if a.box.Grow(outlines).Overlaps(b.box) && plane.Closer(a.ring, b.ring, outlines) {
				outlines = apart(a.ring, b.ring, outlines)
			}
			for _, h := range a.holes {
				for _, o := range b.holes {
					holes = min(holes, h.Distance(o))
				}
			}
		}
	}
	return outlines, holes
}

// apart returns how far apart two outlines are, to 0.1 mm, that are closer than so much.
func apart(a, b plane.Ring, most float64) float64 {
	least := 0.0
	for most-least > 0.1 {
		if middle := (least + most) / 2; plane.Closer(a, b, middle) {
			most = middle
		} else {
			least = middle
		}
	}
	return least
}

// seating tells where no piece has to move aside.
func (r *remarker) seating() {
	const field = "composition.seating.move"
	bound := r.job.Plan.Composition.Seating.Holes > 0
	for _, f := range r.job.Site.Faces {
		_, studs := f.Studs()
		_, joints := f.Joints()
		bound = bound || f.Used && (f.BindsHoles() || studs || joints)
	}
	switch {
	case !bound:
		r.say(field, Idle, "nothing on these walls is in the way of a hole: no piece has to move aside")
	case len(r.layout.Seated) == 0:
		r.say(field, IdleBelow, "no piece has to move aside for its holes: a smaller distance changes nothing")
	}
}

// kinds tells where there is but one kind to share or to mix.
func (r *remarker) kinds() {
	of := map[string]bool{}
	quotas, err := scatter.Quotas(r.job.Plan.Kinds, r.job.Plan.Composition.Count)
	if err != nil {
		return
	}
	for i, k := range r.job.Plan.Kinds {
		if quotas[i] > 0 {
			of[k.Of+"\n"+k.Form+"\n"+k.Size] = true
		}
	}
	if len(of) == 1 {
		for _, field := range []string{"composition.mix", "composition.mix.families"} {
			r.say(field, Idle, "there is only one kind: nothing to mix")
		}
	}
	var sharing []string
	for _, f := range r.items("pieces") {
		if n := r.node(f + ".share"); r.node(f+".count") == nil && (n == nil || strings.Trim(n.Value, "0. ") != "") {
			sharing = append(sharing, f)
		}
	}
	if len(sharing) == 1 {
		r.say(sharing[0]+".share", Idle, "only this kind has a share: it gets all pieces that are left, whatever the figure")
	}
}

// headings tells where there is nothing for them to differ by.
func (r *remarker) headings() {
	h := r.job.Plan.Composition.Headings
	if h.Spread == 0 && h.Strays == 0 {
		r.say("composition.differ", Idle, "with a spread of 0 all pieces head with the flow: there is no other heading to choose")
	}
	if h.Second.Share == 0 {
		r.say("composition.second.turn", Idle, "with a share of 0 no piece heads the second way")
	}
	if h.Strays == 1 {
		r.say("composition.spread", Idle, "all pieces head any way at all: there is nothing to turn off from")
	}
}

// flow tells of a current that has nothing to be held against, and where nothing is to be gone round.
func (r *remarker) flow() {
	clear := true
	for _, f := range r.job.Site.Faces {
		clear = clear && (!f.Used || f.Open().Area()-f.Free().Area() < 1)
	}
	if clear {
		r.say("composition.part", Idle, "nothing on these walls is in the way of the flow")
	}
	if currents := r.items("composition.flow"); len(currents) == 1 {
		for _, of := range []string{".strength", ".reach"} {
			r.say(currents[0]+of, Idle, "it is the only current: it leads whatever the figure")
		}
	}
}

// density tells of what makes nothing denser.
func (r *remarker) density() {
	const d = "composition.density"
	for _, list := range []struct {
		field string
		rest  []string
	}{{d + ".gather", []string{"reach", "round", "along"}}, {d + ".bands", []string{"from", "to"}}} {
		for _, f := range r.items(list.field) {
			if n := r.node(f + ".strength"); n != nil {
				if v, ok := r.number(Number, n.Value); ok && v == 1 {
					for _, key := range list.rest {
						r.say(f+"."+key, Idle, "with a strength of 1 it is as dense there as elsewhere: this changes nothing")
					}
				}
			}
		}
	}
}
