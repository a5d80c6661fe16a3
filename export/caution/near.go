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
		if !overlaps(pair) {
			sort = 1
		}
		of[sort] = append(of[sort], pair)
		onFace[face] = of
	}
	for _, face := range faces {
		of := onFace[face]
		g.overlapping(of[0], face, pieces, kinds)
		g.crowded(of[1], face, pieces, kinds)
	}
}

// overlaps reports whether the pieces of a pair cover one another, and not only hang too near.
func overlaps(pair scatter.Pair) bool {
	return pair.How == scatter.Overlapping || pair.How == scatter.Pierced
}

func (g gathering) overlapping(pairs []scatter.Pair, face int, pieces []scatter.Piece, kinds []scatter.Kind) {
	g.addPairs(pairs, face, pieces, kinds, CodeOverlap, "pieces overlap", "move one of the two, or make sure that one may hang before the other", "the outlines of the pieces")
}

func (g gathering) crowded(pairs []scatter.Pair, face int, pieces []scatter.Piece, kinds []scatter.Kind) {
	g.addPairs(pairs, face, pieces, kinds, "crowded", "pieces are nearer to one another than the plan asks", "move one of the two, or make sure that there is room to hang both", "the plan's gap and spacing")
}

// addPairs counts the pieces of the pairs towards what is said of the face.
func (g gathering) addPairs(pairs []scatter.Pair, face int, pieces []scatter.Piece, kinds []scatter.Kind, code, what, todo, source string) {
	if len(pairs) == 0 {
		return
	}
	s := subject{Ask, g.site.Faces[face].Wall, face, code, what + ": " + named(pairs, pieces), todo, source}
	met := map[int]bool{}
	for _, pair := range pairs {
		met[pair.A], met[pair.B] = true, true
	}
	for i, p := range pieces { // one after another, as add wants them
		if met[i] {
			g.addAll(s, "", p, kinds)
			g.tally(s).from[fmt.Sprintf("piece %d", p.ID)] = true
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
