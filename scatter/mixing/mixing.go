// Package mixing deals kinds to pieces, so that equals are where they are wanted.
//
// A Wish says beforehand which kinds belong where; Deal proposes a kind for every piece of a work;
// Mix improves what stands by swaps. None of them changes how many pieces of a kind there are.
//
// Kinds that are forms or sizes of the same are equals: the scheme is about those. Their forms and
// sizes are scattered under every scheme.
package mixing

import "slices"

// A Scheme says where pieces of one kind are to be, seen from one another.
type Scheme struct {
	Way  Way
	Size int // pieces in a family, with Families
}

// A Way is how kinds lie among one another.
type Way string

// The ways that a plan can name.
const (
	Scattered Way = "scattered" // equals are seldom neighbours; what is meant where nothing is said
	Drifting  Way = "drifting"  // one kind gives way to the next along the flow
	Families  Way = "families"  // small groups of equals
)

// A Kind is what mixing needs to know of one kind of piece.
type Kind struct {
	Of         string // kinds with the same are equals
	Form, Size string // neighbours with the same are scattered, of whatever kind; empty for none
	Quota      int    // pieces of this kind in all
}

// What two neighbours have in common counts so much. That they are equals counts more than all the
// rest together.
const (
	sameOf   = 4
	sameForm = 1
	sameSize = 1
)

// affinities returns for every two kinds, at [k*len(kinds)+l], how little they belong side by side.
func affinities(kinds []Kind, equals int32) []int32 {
	table := make([]int32, 0, len(kinds)*len(kinds))
	for _, k := range kinds {
		for _, l := range kinds {
			var cost int32
			if k.Of == l.Of {
				cost += equals
			}
			if k.Form != "" && k.Form == l.Form {
				cost += sameForm
			}
			if k.Size != "" && k.Size == l.Size {
				cost += sameSize
			}
			table = append(table, cost)
		}
	}
	return table
}

// species returns for every kind the number of what it is a form or size of, in the order in which
// these are first listed, and how many of each there are to be.
func species(kinds []Kind) (of []int, quotas []int) {
	var names []string
	of = make([]int, len(kinds))
	for k, kind := range kinds {
		s := slices.Index(names, kind.Of)
		if s < 0 {
			s = len(names)
			names = append(names, kind.Of)
			quotas = append(quotas, 0)
		}
		of[k] = s
		quotas[s] += kind.Quota
	}
	return of, quotas
}
