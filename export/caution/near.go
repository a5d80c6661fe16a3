package caution

import (
	"fmt"
	"strings"

	"wallshoal/scatter"
)

// CodeOverlap is the code of the caution about pieces that overlap.
const CodeOverlap = "overlap"

// tooNear counts the pieces that overlap, and those that are nearer to one another than the limits
// allow. Only pieces that a person put there are.
func (g gathering) tooNear(pieces []scatter.Piece, kinds []scatter.Kind, limits Limits) {
	onFace := map[int][2][]scatter.Pair{} // by the face of the later piece: those that overlap, and the others
	var faces []int
	for _, pair := range scatter.TooNear(g.site, kinds, pieces, limits.Keep) {
		face := pieces[pair.B].Face
		of, known := onFace[face]
		if !known {
			faces = append(faces, face)
		}
		sort := 0
		if pair.How != scatter.Overlapping && pair.How != scatter.Pierced {
			sort = 1
		}
		of[sort] = append(of[sort], pair)
		onFace[face] = of
	}
	const source = "the plan's gap and spacing"
	for _, face := range faces {
		of := onFace[face]
		g.addPairs(of[0], pieces, kinds, CodeOverlap, "pieces overlap", "move one of the two, or make sure that one may hang before the other", "the outlines of the pieces")
		g.addPairs(of[1], pieces, kinds, "crowded", "pieces are nearer to one another than the plan asks", "move one of the two, or make sure that there is room to hang both", source)
	}
}

// addPairs counts the pieces of the pairs, all of which are on one face or have their later piece
// there.
func (g gathering) addPairs(pairs []scatter.Pair, pieces []scatter.Piece, kinds []scatter.Kind, code, what, todo, source string) {
	if len(pairs) == 0 {
		return
	}
	first := pieces[pairs[0].B]
	s := g.onFace(first, Ask, code, what+": "+named(pairs, pieces), todo, source)
	met := map[int]bool{}
	for _, pair := range pairs {
		met[pair.A], met[pair.B] = true, true
	}
	for i, p := range pieces { // one after another, as add wants them
		if met[i] {
			g.addAll(s, "", p, kinds)
		}
	}
}

// named names the pieces of the first pairs and counts the other pairs.
func named(pairs []scatter.Pair, pieces []scatter.Piece) string {
	var words []string
	for _, pair := range pairs[:min(len(pairs), mostNamed)] {
		words = append(words, fmt.Sprintf("%d and %d", pieces[pair.A].ID, pieces[pair.B].ID))
	}
	switch more := len(pairs) - mostNamed; {
	case more == 1:
		words = append(words, "1 more pair")
	case more > 0:
		words = append(words, fmt.Sprintf("%d more pairs", more))
	}
	return strings.Join(words, ", ")
}
