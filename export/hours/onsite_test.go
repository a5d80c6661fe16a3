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
}
