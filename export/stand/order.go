package stand

import (
	"cmp"
	"math"
	"slices"

	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// order puts the stands into the order of work: by access, the highest first, ceilings before walls,
// and along the walls, by turns from left to right and back. The last turn goes back, against the way in
// which sheets are laid over one another, so that they can come down as it goes.
func order(site wall.Site, stands []Stand) {
	var sorted []Stand
	passes := map[Access]bool{}
	for _, s := range stands {
		if !site.Room.Walls[site.Faces[s.Face].Wall].Ceiling {
			passes[s.Access] = true
		}
	}
	back := len(passes)%2 == 1
	for _, a := range Accesses() {
		var over, on []Stand
		for _, s := range stands {
			switch {
			case s.Access != a:
			case site.Room.Walls[site.Faces[s.Face].Wall].Ceiling:
				over = append(over, s)
			default:
				on = append(on, s)
			}
		}
		sorted = append(sorted, toAndFro(over)...)
		slices.SortFunc(on, func(a, b Stand) int { return alongWalls(a, b, back) })
		sorted = append(sorted, on...)
		if len(on) > 0 {
			back = !back
		}
	}
	copy(stands, wallFirst(site, sorted))
}

// wallFirst returns the stands so that what stands out of a wall is worked at after all above it that one
// reaches from the same: what is drilled there falls on it. Else they keep their order.
func wallFirst(site wall.Site, stands []Stand) []Stand {
	below := func(s, above Stand) bool {
		f := site.Faces[s.Face]
		if f.IsWall() || f.IsBack() || s.Access != above.Access || s.High >= above.High || f.Wall != site.Faces[above.Face].Wall {
			return false
		}
		a, b := across(site, s), across(site, above)
		return a.from < b.to && b.from < a.to
	}
	left := slices.Clone(stands)
	out := make([]Stand, 0, len(stands))
	for len(left) > 0 {
		// The highest of those left is below none, so there is one.
		next := slices.IndexFunc(left, func(s Stand) bool {
			return !slices.ContainsFunc(left, func(other Stand) bool { return below(s, other) })
		})
		out, left = append(out, left[next]), slices.Delete(left, next, next+1)
	}
	return out
}

// across returns what the holes of a stand take up along their wall, and what falls beside them.
func across(site wall.Site, s Stand) span {
	const beside = 100.0 // mm
	own, frame := ownWall(site, site.Faces[s.Face]).Frame, site.Faces[s.Face].Frame
	out := span{math.Inf(1), math.Inf(-1)}
	for _, p := range []plane.Point{s.Bounds.Min, s.Bounds.Max, {X: s.Bounds.Min.X, Y: s.Bounds.Max.Y}, {X: s.Bounds.Max.X, Y: s.Bounds.Min.Y}} {
		q, _ := own.Local(frame.At(p))
		x := hundredth(q.X)
		out = span{math.Min(out.from, x-beside), math.Max(out.to, x+beside)}
	}
	return out
}

// oneSetUp is how far apart two places are at most that a platform serves without being moved, mm: it is
// longer than that, and one reaches half a stride past it at either end (common practice).
const oneSetUp = 750

// together finds the stands that are reached from the platform of the stand before, so long as none of them
// is far from the first.
func together(stands []Stand) {
	first := 0
	for i, s := range stands {
		from := stands[first]
		near := i > 0 && s.Access == from.Access && (s.Access == Platform || s.Access == StairPlatform) &&
			s.Place.Wall == from.Place.Wall && s.Place.Wall >= 0 && s.Place.Back == from.Place.Back && len(s.Over) == 0 && len(from.Over) == 0 &&
			hundredth(math.Hypot(s.Place.Left-from.Place.Left, s.Place.Off-from.Place.Off)) <= oneSetUp
		if near && from.Foot.Height == s.Foot.Height {
			stands[i].Same = from.Number
			continue
		}
		first = i
	}
}

// alongWalls compares stands by the wall they stand before, by how far along it, stride by stride and
// within a stride the higher first, since dust and chips fall, and by face; from the last wall's right end
// to the first wall's left one where back is set.
func alongWalls(a, b Stand, back bool) int {
	way := cmp.Or(cmp.Compare(a.Place.Wall, b.Place.Wall), front(a, b), cmp.Compare(math.Floor(a.Place.Left/stride), math.Floor(b.Place.Left/stride)))
	if back {
		way = -way
	}
	return cmp.Or(way, cmp.Compare(b.High, a.High), cmp.Compare(a.Place.Left, b.Place.Left), cmp.Compare(a.Face, b.Face), cmp.Compare(a.Pieces[0], b.Pieces[0]))
}

// front compares stands by whether they are before a wall or behind it.
func front(a, b Stand) int {
	switch {
	case a.Place.Back == b.Place.Back:
		return 0
	case b.Place.Back:
		return -1
	}
	return 1
}

// toAndFro orders stands under a ceiling: by face, in rows from the one nearest to the first wall, by
// turns from left to right and back. A row is of stands whose windows overlap the first of it.
func toAndFro(stands []Stand) []Stand {
	slices.SortFunc(stands, func(a, b Stand) int {
		return cmp.Or(cmp.Compare(a.Face, b.Face), cmp.Compare(a.Bounds.Centre().Y, b.Bounds.Centre().Y),
			cmp.Compare(a.Bounds.Min.X, b.Bounds.Min.X), cmp.Compare(a.Pieces[0], b.Pieces[0]))
	})
	var out []Stand
	back := false
	for len(stands) > 0 {
		n := 1
		for n < len(stands) && stands[n].Face == stands[0].Face && stands[n].Bounds.Centre().Y <= stands[0].Bounds.Max.Y {
			n++
		}
		row := stands[:n]
		slices.SortStableFunc(row, func(a, b Stand) int {
			if back {
				a, b = b, a
			}
			return cmp.Compare(a.Bounds.Centre().X, b.Bounds.Centre().X)
		})
		out, stands, back = append(out, row...), stands[n:], !back
	}
	return out
}
