package hours

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestOnSite(t *testing.T) {
	ops := func(pers ...Per) (all []Operation) {
		for _, p := range pers {
			all = append(all, Operation{Per: p})
		}
		return all
	}
	assert.Equal(t, 3, OnSite(ops(None, Piece, Hole, Sheet, Hole, Piece)), "one of something for every hole is made before the sheets go up")
	assert.Equal(t, 1, OnSite(ops(Piece, SquareFoot, Sheet, Hole)))
	assert.Equal(t, 2, OnSite(ops(None, Piece, Hole, Piece)))
	assert.Equal(t, 2, OnSite(ops(Piece, Piece)), "nothing is done there")
	assert.Zero(t, OnSite(nil))

	welded := ops(Piece, Hole, Hole, Piece)
	assert.Equal(t, 1, OnSite(welded))
	welded[1].For = Making
	assert.Equal(t, 2, OnSite(welded), "what is for making is not done there")
	hung := ops(Piece, None, Piece)
	hung[1].For, hung[2].For = Hanging, Hanging
	assert.Equal(t, 2, OnSite(hung), "waiting is no work")
	hung = ops(Piece, Piece, Sheet)
	hung[1].For = Hanging
	assert.Equal(t, 2, OnSite(hung), "packing is for hanging, and sheets say better where it begins")
}
