package easel

import (
	"slices"

	"wallshoal/export/caution"
	"wallshoal/scatter"
)

// A Judgement is what would be said of pieces once they are moved.
type Judgement struct {
	Flaws    []scatter.Finding // in what they would not be as the plan asks; each as it is said of one of them
	Cautions []Said            // that would speak of them, by piece and then as caution.Of has them
	Rid      []Said            // that speak of them now, and of which none with the same code would
	Past     int               // how many of the pieces are past MostWarned, and have no cautions here
}

// Said is a caution that speaks of a piece.
type Said struct {
	Piece int  // its ID
	New   bool // it does not say so of the piece where that is now
	caution.PieceCaution
}

// MostWarned is of how many pieces that are moved together the cautions are told.
const MostWarned = 30

// Judge returns what would be said of pieces if they were moved so, and nothing else is: what Judge with no moves
// but those that change nothing says of them afterwards, but for what is new.
func (e *Easel) Judge(moves []Move) (Judgement, error) {
	now, _ := e.Now()
	j, before := now.Job, now.Work.Layout
	pieces := slices.Clone(before.Pieces)
	var ids []int // of the pieces that are moved
	for _, m := range moves {
		var err error
		if pieces, err = moved(pieces, m, j); err != nil {
			return Judgement{}, err
		}
		id := m.ID
		if m.Do == Add {
			id = pieces[len(pieces)-1].ID
		}
		if !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	after := scatter.Layout{Pieces: pieces}
	found, err := scatter.Inspect(j.Site, j.Plan.Kinds, j.Plan.Composition, after, j.Plan.Units)
	if err != nil {
		return Judgement{}, err
	}
	var out Judgement
	for _, f := range found {
		switch {
		case slices.Contains(ids, f.Piece):
			out.Flaws = append(out.Flaws, f)
		case slices.Contains(ids, f.Other):
			out.Flaws = append(out.Flaws, f.Of(f.Other))
		}
	}
	out.Past = max(len(ids)-MostWarned, 0)
	for _, id := range ids[:len(ids)-out.Past] {
		was := caution.Of(j.Site, j.Plan.Kinds, before, j.Limits(), id)
		is := caution.Of(j.Site, j.Plan.Kinds, after, j.Limits(), id)
		for _, c := range is {
			out.Cautions = append(out.Cautions, Said{id, !slices.ContainsFunc(was, c.Same), c})
		}
		for _, c := range was {
			if !slices.ContainsFunc(is, func(other caution.PieceCaution) bool { return other.Code == c.Code }) {
				out.Rid = append(out.Rid, Said{id, false, c})
			}
		}
	}
	return out, nil
}
