package scope

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Pieces with other holes are named by number and wall; an older scope that knows nothing of them names none.
func TestWhichHolesChanged(t *testing.T) {
	old := Scope{Fingerprint: "A", Drilled: []string{"1 X Long wall", "2 Y Long wall", "3 Z Long wall", "4 W Stair wall", "9 Q Stair wall"}}
	now := Scope{Fingerprint: "B", Drilled: []string{"1 K Long wall", "2 L Long wall", "3 M Long wall", "4 W Stair wall", "10 Q Stair wall"}}
	var told []string
	for _, c := range Compare(old, now) {
		told = append(told, c.Text)
	}
	assert.Equal(t, []string{
		"they are not the same holes: fingerprint B, was A",
		"Stair wall: the holes of 1 piece are gone: 9",
		"Stair wall: the holes of 1 piece are new: 10",
		"Long wall: the holes of 3 pieces are others: 1 to 3",
	}, told)
	old.Drilled = nil
	assert.Len(t, Compare(old, now), 1)
}
