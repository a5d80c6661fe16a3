package plan

import (
	"fmt"
	"slices"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/wall"
)

// walls reads which walls take pieces, and what stands on them.
func (o *option) walls() {
	used, bare := o.m.Get("walls"), o.m.Get("bare")
	if !used.Given() && !bare.Given() {
		return
	}
	o.Room.Walls = slices.Clone(o.Room.Walls)
	all := make([]*wall.Wall, 0, len(o.Room.Walls)+1)
	for i := range o.Room.Walls {
		all = append(all, &o.Room.Walls[i])
	}
	if c := o.Room.Ceiling; c != nil {
		own := *c
		o.Room.Ceiling = &own
		all = append(all, &own)
	}
	named := o.onlyWalls(used, all)
	o.bareWalls(bare, all, named)
	if !o.sound || o.file.Faulty(used.Field()) || o.file.Faulty(bare.Field()) {
		return
	}
	takes := false
	for i, w := range all {
		before := o.plan.Room.Ceiling
		if i < len(o.plan.Room.Walls) {
			before = &o.plan.Room.Walls[i]
		}
		o.tellWall(*before, *w)
		takes = takes || takesPieces(*w)
	}
	if !takes {
		o.sound = false
		o.either("bare", "walls").Fault("leaves every wall bare", "leave at least one that takes pieces")
	}
}

// takesPieces reports whether pieces go on the wall or on what stands on it.
func takesPieces(w wall.Wall) bool {
	return !w.Bare || slices.ContainsFunc(w.Obstructions, func(b wall.Obstruction) bool { return len(b.Use) > 0 })
}

// leaveBare has no pieces on the wall and on what stands there.
func leaveBare(w *wall.Wall) {
	w.Bare = true
	w.Obstructions = slices.Clone(w.Obstructions)
	for i := range w.Obstructions {
		w.Obstructions[i].Use = nil
	}
}

// tellWall notes what of a wall takes pieces now and did not before, and the other way round.
func (o *option) tellWall(before, now wall.Wall) {
	was, is := takesPieces(before), takesPieces(now)
	switch {
	case was && !is:
		o.changed("%s bare", now.Name)
	case !was && is, before.Bare && !now.Bare:
		o.changed("%s used", now.Name)
	}
	o.OtherWalls = o.OtherWalls || was != is || before.Bare != now.Bare
	for i, b := range before.Obstructions {
		if len(b.Use) > 0 && len(now.Obstructions[i].Use) == 0 {
			o.OtherWalls = true
			if is {
				o.changed("%s bare", b.Name)
			}
		}
	}
}

// onlyWalls reads which walls take pieces, leaves the others bare, and returns which are named.
func (o *option) onlyWalls(v yamlfile.Value, all []*wall.Wall) map[*wall.Wall]bool {
	named := map[*wall.Wall]bool{}
	if !v.Given() {
		return named
	}
	items, ok := v.List(len(all)+MaxWalls, "a list of walls, like ["+o.stage(o.Room).someWall()+"]")
	if ok && len(items) == 0 {
		v.Fault("names no wall", "name at least one that takes pieces, or remove the line")
	}
	for _, item := range items {
		i, name, ok := o.stage(o.Room).wallNamed(item)
		switch {
		case !ok:
			o.sound = false
		case named[all[i]]:
			item.Fault(yamlfile.Quote(name)+" is named twice", "keep one of them")
		default:
			named[all[i]] = true
		}
	}
	for _, w := range all {
		if named[w] {
			w.Bare = false
		} else {
			leaveBare(w)
		}
	}
	return named
}

// bareWalls reads what takes no pieces; named are walls of which the option says that they do.
func (o *option) bareWalls(v yamlfile.Value, all []*wall.Wall, named map[*wall.Wall]bool) {
	if !v.Given() {
		return
	}
	items, ok := v.List(len(all)+wall.MaxInRoom, "a list of walls, like ["+o.stage(o.Room).someWall()+"]")
	if ok && len(items) == 0 {
		v.Fault("names nothing", "name a wall or something that stands on one, or remove the line")
	}
	for _, item := range items {
		name, ok := item.Text(maxTitle)
		if !ok {
			o.sound = false
			continue
		}
		found := false
		var known []string
		for _, w := range all {
			known = append(known, w.Name)
			if wall.FoldName(w.Name) == wall.FoldName(name) {
				found = true
				if named[w] {
					item.Fault(yamlfile.Quote(name)+" is among the walls that take pieces", "keep one of them")
				}
				leaveBare(w)
			}
			w.Obstructions = slices.Clone(w.Obstructions)
			for j := range w.Obstructions {
				b := &w.Obstructions[j]
				if len(b.Use) > 0 {
					known = append(known, b.Name)
				}
				if wall.FoldName(b.Name) == wall.FoldName(name) {
					b.Use, found = nil, true // of what carries none already, that changes nothing
				}
			}
		}
		if !found && !contains(known, "") && !o.file.Faulty("room") {
			item.Fault(yamlfile.Quote(name)+" is no wall, and nothing on one", oneOf(name, "walls and things", known))
		}
	}
}

// quotas reads how many of the kinds there are to be.
func (o *option) quotas() {
	counts, shares := o.m.Get("counts"), o.m.Get("shares")
	if !counts.Given() && !shares.Given() {
		return
	}
	drawn := slices.Clone(o.drawn)
	exact, ok := counts.Map()
	part, ok2 := shares.Map()
	o.sound = o.sound && (ok || !counts.Given()) && (ok2 || !shares.Given())
	for _, code := range exact.Keys() {
		if p := o.pieceCoded(drawn, code, exact.Get(code)); p != nil {
			n, good := exact.Get(code).Whole("a number of pieces", 0, MaxPieces)
			if good && (n != p.Count || n == 0 && p.Share > 0) {
				o.changed("%s", namedCount(n, p.Name))
			}
			p.Count, p.Share = n, 0
			o.sound = o.sound && good
		}
	}
	for _, code := range part.Keys() {
		given := part.Get(code)
		if exact.Get(code).Given() {
			given.Fault("stands beside a count", "keep one of them")
			continue
		}
		if p := o.pieceCoded(drawn, code, given); p != nil {
			share, good := given.Number("a share", 0, scatter.MaxShare)
			switch {
			case !good:
				o.sound = false
			case share == p.Share && p.Count == 0:
			case share == 0:
				o.changed("%s", namedCount(0, p.Name))
			default:
				o.changed("share of %s %g", p.Name, share)
			}
			p.Count, p.Share = 0, share
		}
	}
	if !o.sound || o.file.Faulty(counts.Field()) || o.file.Faulty(shares.Field()) {
		return
	}
	where := o.either("counts", "shares")
	o.Kinds = nil
	o.again(where, func() {
		for _, p := range drawn {
			o.Kinds = append(o.Kinds, o.made(p)...)
		}
	})
	if !slices.ContainsFunc(o.Kinds, func(k scatter.Kind) bool { return k.Count > 0 || k.Share > 0 }) {
		where.Fault("leaves no piece to hang", "leave at least one kind")
	}
}

// pieceCoded returns the piece with the code under which v stands; nil where there is none, which is
// complained of.
func (o *option) pieceCoded(drawn []piece, code string, v yamlfile.Value) *piece {
	for i := range drawn {
		if drawn[i].Code == code {
			return &drawn[i]
		}
	}
	if !o.file.Faulty("pieces") {
		v.Fault("is the code of no piece", "write codes and numbers, like {"+o.someCode()+": 12}")
	}
	o.sound = false
	return nil
}

// someCode returns the code of a piece for an example.
func (o *option) someCode() string {
	if len(o.drawn) > 0 && o.drawn[0].Code != "" {
		return o.drawn[0].Code
	}
	return "A"
}

// namedCount says how many there are of a kind.
func namedCount(n int, name string) string {
	if n == 0 {
		return "no " + name
	}
	return fmt.Sprintf("%d %s", n, name)
}
