package easel

import (
	"context"
	"fmt"
	"math"
	"slices"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall/plane"
)

// A Move is one change of a piece by hand.
type Move struct {
	Do      Deed
	ID      int              // of the piece; not for Add
	With    int              // for Swap, the ID of the other piece
	Face    *int             // for Place and Add: index into the faces of the site
	At      *plane.Point     // the centre of the piece on it, mm
	Heading *heading.Bearing // what is nil stays as it is; a piece that is added needs a face and a place
	Kind    *int
	Down    bool // a piece that hangs may be taken down for it
}

// A Deed is what is done to a piece.
type Deed string

// Put it elsewhere, turn it, or make it of another kind; put a new one; take it away; let it stay where
// it is while others are laid anew, or not; let two change places.
const (
	Place  Deed = "place"
	Add    Deed = "add"
	Delete Deed = "delete"
	Lock   Deed = "lock"
	Unlock Deed = "unlock"
	Swap   Deed = "swap"
)

// Hand changes pieces by hand. What is placed or added is locked by it. With flow all that is not locked
// is laid anew round what is, and round what hangs; otherwise it stays. What alters no piece is no step. Where a piece hangs that would have other holes, or be
// gone, nothing changes and the error is a *HangsError, unless its move says that it may be taken down.
func (e *Easel) Hand(ctx context.Context, gesture string, moves []Move, flow bool) error {
	ctx, end := e.begin(ctx, gesture)
	defer end()
	if ctx.Err() != nil {
		return overtaken(ctx, context.Cause(ctx))
	}
	layout := e.shown.Work.Layout
	pieces := slices.Clone(layout.Pieces)
	for _, m := range moves {
		var err error
		if pieces, err = moved(pieces, m, e.shown.Job); err != nil {
			return err
		}
	}
	if err := onWalls(pieces, moves, e.shown.Job); err != nil {
		return err
	}
	if !slices.ContainsFunc(moves, func(m Move) bool { return m.Down }) {
		if err := e.wouldTakeDown(pieces, e.shown.Job); err != nil {
			return err
		}
	}
	s := step{text: e.shown.Text, gesture: gesture, byHand: true}
	s.layout = scatter.Layout{Seed: layout.Seed, Pieces: pieces}
	if flow {
		var err error
		if _, s.layout, err = e.layRound(ctx, e.shown.Job, pieces, layout.Seed); err != nil {
			return overtaken(ctx, err)
		}
	}
	shown, err := e.show(s, e.shown.Job)
	if err != nil {
		return err
	}
	return e.take(s, shown)
}

// onWalls reports a piece that moves would put beside its face, where there is nothing to hang it on.
func onWalls(pieces []scatter.Piece, moves []Move, j job.Job) error {
	for _, m := range moves {
		i := indexOf(pieces, m.ID)
		if m.Do == Add {
			i = len(pieces) - 1
		}
		if m.At == nil || i < 0 {
			continue
		}
		if p := pieces[i]; j.Site.Faces[p.Face].Whole.Distance(p.At) < -0.01 {
			return fmt.Errorf("there is no wall at that place beside %s: a piece needs its middle on it", j.Site.Title(p.Face))
		}
	}
	return nil
}

// moved returns the pieces, which it may change, as they are after a move.
func moved(pieces []scatter.Piece, m Move, j job.Job) ([]scatter.Piece, error) {
	if m.Do == Add {
		return added(pieces, m, j)
	}
	i := indexOf(pieces, m.ID)
	if i < 0 {
		return nil, fmt.Errorf("there is no piece %d", m.ID)
	}
	p := &pieces[i]
	switch m.Do {
	case Place:
		if err := m.check(j); err != nil {
			return nil, err
		}
		m.put(p)
	case Delete:
		return slices.Delete(pieces, i, i+1), nil
	case Lock, Unlock:
		p.Locked = m.Do == Lock
	case Swap:
		k := indexOf(pieces, m.With)
		if k < 0 {
			return nil, fmt.Errorf("there is no piece %d", m.With)
		}
		q := &pieces[k]
		p.Kind, q.Kind = q.Kind, p.Kind
		p.Locked, q.Locked = true, true
	default:
		return nil, fmt.Errorf("%q is nothing that is done to a piece", string(m.Do))
	}
	return pieces, nil
}

// added returns the pieces and a new one, under the first number after all others.
func added(pieces []scatter.Piece, m Move, j job.Job) ([]scatter.Piece, error) {
	if m.Face == nil || m.At == nil {
		return nil, fmt.Errorf("a piece that is added needs a face and a place on it")
	}
	if err := m.check(j); err != nil {
		return nil, err
	}
	p := scatter.Piece{ID: 1}
	for _, other := range pieces {
		p.ID = max(p.ID, other.ID+1)
	}
	m.put(&p)
	return append(pieces, p), nil
}

// check reports what there is not.
func (m Move) check(j job.Job) error {
	switch {
	case m.Face != nil && (*m.Face < 0 || *m.Face >= len(j.Site.Faces)):
		return fmt.Errorf("there is no face %d", *m.Face)
	case m.Face != nil && !j.Site.Faces[*m.Face].Used:
		return fmt.Errorf("%s takes no pieces", j.Site.Title(*m.Face))
	case m.Kind != nil && (*m.Kind < 0 || *m.Kind >= len(j.Plan.Kinds)):
		return fmt.Errorf("there is no kind %d", *m.Kind)
	case m.At != nil && !(math.Abs(m.At.X) <= farthest && math.Abs(m.At.Y) <= farthest):
		return fmt.Errorf("a place is too far away")
	case m.Heading != nil && !(math.Abs(float64(*m.Heading)) <= 360):
		return fmt.Errorf("a heading is not from 0 to 360 degrees")
	}
	return nil
}

// farthest is how far from a face's corner a piece can be put, mm: longer than any wall.
const farthest = 1e6

// put puts a piece where the move has it, on the lattice of places and bearings that layouts keep to.
func (m Move) put(p *scatter.Piece) {
	if m.Face != nil {
		p.Face = *m.Face
	}
	if m.At != nil {
		p.At = plane.Point{X: hundredth(m.At.X), Y: hundredth(m.At.Y)}
	}
	if m.Heading != nil {
		p.Heading = heading.Bearing(math.Mod(hundredth(math.Mod(float64(*m.Heading)+360, 360)), 360))
	}
	if m.Kind != nil {
		p.Kind = *m.Kind
	}
	p.Locked = true
}

func hundredth(v float64) float64 { return math.Round(v*100) / 100 }

func indexOf(pieces []scatter.Piece, id int) int {
	return slices.IndexFunc(pieces, func(p scatter.Piece) bool { return p.ID == id })
}

func locked(pieces []scatter.Piece) []scatter.Piece {
	var kept []scatter.Piece
	for _, p := range pieces {
		if p.Locked {
			kept = append(kept, p)
		}
	}
	return kept
}

// carried returns the pieces of one job as pieces of another: on the faces and of the kinds that have
// their names there. A piece of which either is gone is left out.
func carried(pieces []scatter.Piece, from, to job.Job) []scatter.Piece {
	var kept []scatter.Piece
	for _, p := range pieces {
		f := from.Site.Faces[p.Face]
		face, there := to.Site.FaceByName(from.Site.Room.Walls[f.Wall].Name, f.Name)
		code := from.Plan.Kinds[p.Kind].Code
		kind := slices.IndexFunc(to.Plan.Kinds, func(k scatter.Kind) bool { return k.Code == code })
		if !there || !to.Site.Faces[face].Used || kind < 0 {
			continue
		}
		p.Face, p.Kind = face, kind
		kept = append(kept, p)
	}
	return kept
}
