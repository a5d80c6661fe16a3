package hours

import "slices"

// OnSite returns the index of the first operation that is done at the walls: one that is counted by sheet of
// the hole map or by area of wall; where there is none, by hole, for what there is one of for every hole can be
// made in the workshop too; and where there is none of those either, one that is said to be for hanging. What
// is said to be for making is none of them. What follows is done at the walls as well. Where there is none at
// all it is the number of operations.
func OnSite(all []Operation) int {
	by := func(pers ...Per) func(Operation) bool {
		return func(o Operation) bool { return o.For != Making && slices.Contains(pers, o.Per) }
	}
	for _, at := range []func(Operation) bool{by(Sheet, SquareMetre, SquareFoot), by(Hole), func(o Operation) bool { return o.For == Hanging && o.Per != None }} {
		if i := slices.IndexFunc(all, at); i >= 0 {
			return i
		}
	}
	return len(all)
}

// Settled returns the operations with what each is for, where nobody says so: what is done at the walls, from
// OnSite on, is for hanging, and what is done before that for making.
func Settled(all []Operation) []Operation {
	first := OnSite(all)
	out := slices.Clone(all)
	for i := range out {
		switch {
		case out[i].For != "":
		case i < first:
			out[i].For = Making
		default:
			out[i].For = Hanging
		}
	}
	return out
}
