// Package hanging says what of a work hangs on the wall, by its progress file: which pieces are to stay where they are when the rest
// is laid anew, and which hang by an earlier layout and have other holes now.
package hanging

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/progress"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/holemap"
	"wallshoal/export/number"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
)

// A Hanging is how a record of what hangs stands to a work.
type Hanging struct {
	Up    int             // pieces that hang, wherever that is
	Held  []scatter.Piece // pieces of the work that hang: in their holes, or at their very place; by ID
	Moved []Moved         // what hangs where the work has no such holes; by number
	Left  []Moved         // what was taken down for a later layout, and left holes that the work has not; by number

	as map[string]progress.Piece // what hangs, by the mark of its holes
}

// As reports whether in the holes with that mark hangs just a piece of that kind and heading.
func (h Hanging) As(mark, code string, heading heading.Bearing) bool {
	p, hangs := h.as[mark]
	return hangs && p.Kind == code && math.Abs(float64(p.Heading-heading)) < 0.01
}

// A Moved is a piece that was hung by an earlier layout than a work, which has other holes for it, or none.
type Moved struct {
	progress.Tick
	Drilled []holemap.Hole // those in which it hangs, without numbers, codes and cautions; none where nobody can say
	Fill    int            // holes to fill once it is down
	Drill   int            // holes that the work has for the piece of its number
}

// Of holds a record against a work.
func Of(work holemap.Work, record progress.Record) Hanging {
	print := work.Map.Fingerprint
	pieces := progress.Pieces(work)
	standing := record.Against(print, pieces)
	h := Hanging{Up: len(record.Up), as: map[string]progress.Piece{}}
	for _, t := range record.Up {
		h.as[t.Holes] = t.Piece
	}
	byMark := map[int]bool{} // by ID: in the holes of the piece something hangs
	for _, id := range standing.Hanging {
		byMark[id] = true
	}
	for _, again := range standing.Rehang {
		byMark[again.Number] = true
	}
	byPlace := map[progress.Piece]bool{} // where something hangs, without holes
	for _, t := range standing.Astray {
		h.Moved = append(h.Moved, movedOf(work, t, byMark))
		if t.Wall != "" {
			byPlace[bare(t.Piece)] = true
		}
	}
	for _, t := range standing.Left {
		m := movedOf(work, t, byMark)
		m.Drill = 0
		h.Left = append(h.Left, m)
	}
	held := map[int]bool{}
	for _, p := range pieces {
		held[p.Number] = byMark[p.Number] || byPlace[bare(p)]
	}
	for _, p := range work.Layout.Pieces {
		if held[p.ID] {
			h.Held = append(h.Held, p)
		}
	}
	for _, list := range [][]Moved{h.Moved, h.Left} {
		slices.SortStableFunc(list, func(a, b Moved) int { return cmp.Compare(a.Number, b.Number) })
	}
	return h
}

// bare returns a piece without its holes: the place where it hangs.
func bare(p progress.Piece) progress.Piece {
	p.Holes = ""
	return p
}

func movedOf(work holemap.Work, t progress.Tick, byMark map[int]bool) Moved {
	m := Moved{Tick: t}
	if p, ok := place(work.Site, work.Kinds, t.Piece); ok {
		m.Drilled = Holes(work.Kinds, p)
	}
	if kind := kindOf(work.Kinds, t.Kind); kind >= 0 {
		m.Fill = len(work.Kinds[kind].Holes)
	}
	for _, p := range work.Layout.Pieces {
		if p.ID == t.Number && !byMark[p.ID] {
			m.Drill = len(work.Kinds[p.Kind].Holes)
		}
	}
	return m
}

// Holes returns the holes of a piece, without numbers, codes and cautions.
func Holes(kinds []scatter.Kind, p scatter.Piece) []holemap.Hole {
	var holes []holemap.Hole
	for i, h := range kinds[p.Kind].Holes {
		holes = append(holes, holemap.Hole{
			Piece: p.ID, Kind: p.Kind, Face: p.Face, At: p.HoleAt(kinds, i), Bit: h.Bit, Depth: h.Depth, Fixing: h.Fixing, Heading: p.Heading,
		})
	}
	return holes
}

// Mark returns the mark of the holes of a piece, as the progress file has it.
func Mark(site wall.Site, kinds []scatter.Kind, p scatter.Piece) string {
	return holemap.PieceMarks(site, Holes(kinds, p))[p.ID]
}

func kindOf(kinds []scatter.Kind, code string) int {
	return slices.IndexFunc(kinds, func(k scatter.Kind) bool { return k.Code == code })
}

// place returns a ticked piece where it hangs, if its wall and its kind are there and the tick says where that is.
func place(site wall.Site, kinds []scatter.Kind, p progress.Piece) (scatter.Piece, bool) {
	face, there := site.FaceByName(p.Wall, p.Face)
	kind := kindOf(kinds, p.Kind)
	return scatter.Piece{ID: p.Number, Kind: kind, Face: face, At: p.At, Heading: p.Heading}, there && kind >= 0
}

// A Round is a layout in which everything hangs where it does.
type Round struct {
	Pieces  []scatter.Piece // those that hang, and those of the layout
	Held    map[int]bool    // by ID, those that hang
	Unknown []progress.Tick // what hangs nobody can say where: it was ticked by an earlier version of this program, and by another layout
}

// Put puts into a layout of a job what hangs elsewhere than the layout has it, in the place of the piece of its number. One of that
// number that is locked stays where somebody put it, and where there is no piece of it none is made. Where no layout is given, what hangs is all there
// is. The error is yamlfile.Faults of the plan where something hangs for which it has no wall or no kind.
func Put(j job.Job, pieces []scatter.Piece, record progress.Record) (Round, error) {
	r := Round{Held: map[int]bool{}}
	up := map[string]bool{}
	for _, t := range record.Up {
		up[t.Holes] = true
	}
	index := map[int]int{} // by ID
	known := map[string]bool{}
	for _, p := range pieces {
		mark := Mark(j.Site, j.Plan.Kinds, p)
		if up[mark] {
			known[mark], r.Held[p.ID] = true, true
		}
		index[p.ID] = len(r.Pieces)
		r.Pieces = append(r.Pieces, p)
	}
	var homeless []progress.Piece
	for _, t := range record.Up {
		if known[t.Holes] {
			continue
		}
		i, there := index[t.Number]
		p, ok := place(j.Site, j.Plan.Kinds, t.Piece)
		switch {
		case t.Wall == "":
			r.Unknown = append(r.Unknown, t)
		case !ok:
			homeless = append(homeless, t.Piece)
		case len(pieces) > 0 && (!there || r.Held[t.Number] || r.Pieces[i].Locked && !samePlace(r.Pieces[i], p)):
		case there && r.Held[t.Number]: // two layouts gave two pieces that hang one number
			for p.ID = 1; ; p.ID++ {
				if _, taken := index[p.ID]; !taken {
					break
				}
			}
			index[p.ID], r.Held[p.ID] = len(r.Pieces), true
			r.Pieces = append(r.Pieces, p)
		case there:
			p.Locked = r.Pieces[i].Locked
			r.Pieces[i], r.Held[p.ID] = p, true
		default:
			index[p.ID], r.Held[p.ID] = len(r.Pieces), true
			r.Pieces = append(r.Pieces, p)
		}
	}
	slices.SortFunc(r.Pieces, func(a, b scatter.Piece) int { return cmp.Compare(a.ID, b.ID) })
	return r, missing(j, homeless)
}

func samePlace(a, b scatter.Piece) bool {
	return a.Kind == b.Kind && a.Face == b.Face && a.At == b.At && a.Heading == b.Heading
}

// Carry returns pieces of one job that hang as pieces of another, whether or not they may be where they are. The error is
// yamlfile.Faults of the other plan where it has no wall or no kind for one.
func Carry(pieces []scatter.Piece, from, to job.Job) ([]scatter.Piece, error) {
	var carried []scatter.Piece
	var homeless []progress.Piece
	for _, p := range pieces {
		f := from.Site.Faces[p.Face]
		as := progress.Piece{
			Number: p.ID, Kind: from.Plan.Kinds[p.Kind].Code, Heading: p.Heading, Wall: from.Site.Room.Walls[f.Wall].Name, Face: f.Name, At: p.At,
		}
		there, ok := place(to.Site, to.Plan.Kinds, as)
		if !ok {
			homeless = append(homeless, as)
			continue
		}
		there.Locked = p.Locked
		carried = append(carried, there)
	}
	return carried, missing(to, homeless)
}

// missing says of what a plan has none though pieces of it hang, as yamlfile.Faults; nil where nothing is missing.
func missing(j job.Job, homeless []progress.Piece) error {
	var names []string
	numbers, fields := map[string][]int{}, map[string]string{}
	for _, p := range homeless {
		name, field := fmt.Sprintf("the kind with the code %s", p.Kind), "pieces"
		if _, there := j.Site.FaceByName(p.Wall, p.Face); !there {
			name, field = yamlfile.Quote(p.Wall+", "+p.Face), "room.walls"
		}
		if numbers[name] == nil {
			names = append(names, name)
		}
		numbers[name], fields[name] = append(numbers[name], p.Number), field
	}
	var faults yamlfile.Faults
	for _, name := range names {
		all := slices.Sorted(slices.Values(numbers[name]))
		faults = append(faults, yamlfile.Fault{
			File: j.Name, Line: j.Plan.Lines[fields[name]], Field: fields[name],
			Wrong: fmt.Sprintf("%s is not there, and %s hang by it: %s", name, number.Of(len(all), "piece"), number.Runs(all)),
			Fix:   "bring it back under its name, or take those pieces down and tick that first",
		})
	}
	if len(faults) == 0 {
		return nil
	}
	return faults.Listed()
}

// Tell says of pieces that were moved after they hung which they are and what is to be done at the wall; empty for none.
func Tell(moved []Moved) string {
	if len(moved) == 0 {
		return ""
	}
	var numbers []int
	fill, drill := 0, 0
	for _, m := range moved {
		numbers = append(numbers, m.Number)
		fill += m.Fill
		drill += m.Drill
	}
	text := fmt.Sprintf("%s by an earlier layout: take down, fill %s", verb(numbers, "hangs", "hang"), number.Of(fill, "hole"))
	if drill > 0 {
		text += fmt.Sprintf(", drill %d new", drill)
	}
	return text
}

// TellLeft says what holes are left of pieces that were taken down; empty for none.
func TellLeft(left []Moved) string {
	if len(left) == 0 {
		return ""
	}
	var numbers []int
	fill := 0
	for _, m := range left {
		numbers = append(numbers, m.Number)
		fill += m.Fill
	}
	return fmt.Sprintf("%s down from where an earlier layout had %s: %s to fill", verb(numbers, "is", "are"), plural(len(numbers), "it", "them"), number.Of(fill, "hole"))
}

func verb(numbers []int, one, many string) string {
	slices.Sort(numbers)
	return number.Runs(slices.Compact(slices.Clone(numbers))) + " " + plural(len(numbers), one, many)
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
