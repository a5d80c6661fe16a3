package view

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/caution"
)

func (v *visitor) try(body string) judged {
	v.t.Helper()
	r := v.post("/api/try", body)
	require.Equal(v.t, http.StatusOK, r.status, r.body)
	return decoded[judged](v.t, r.body)
}

func of(all []warned, code string) []warned {
	var some []warned
	for _, c := range all {
		if c.Code == code {
			some = append(some, c)
		}
	}
	return some
}

// While a piece is dragged it is said which cautions it would come to, which of them are new, and which it would
// be rid of; where it lies none is new.
func TestCautionsOfAPieceThatIsDragged(t *testing.T) {
	v := served(t, small) // the zone "warm" is the left end of wall One
	v.stateAfter("/api/pieces", `{"changes":[{"do":"place","id":4,"face":0,"at":[1400,1500],"heading":0}]}`)
	still := v.try(`{"changes":[{"id":4}]}`)
	assert.Empty(t, of(still.Cautions, caution.MarkedCode))
	assert.Empty(t, still.Rid)
	into := v.try(`{"changes":[{"id":4,"face":0,"at":[400,1500]}]}`)
	require.Len(t, of(into.Cautions, caution.MarkedCode), 1)
	zone := of(into.Cautions, caution.MarkedCode)[0]
	assert.True(t, zone.New)
	assert.Equal(t, 4, zone.Piece)
	assert.Equal(t, caution.Ask, zone.Severity)
	assert.Equal(t, "marked in the plan: warm", zone.Heading)
	assert.True(t, strings.HasSuffix(zone.Text, caution.Standing), zone.Text)
	v.stateAfter("/api/pieces", `{"changes":[{"do":"place","id":4,"face":0,"at":[400,1500]}]}`)
	after := v.try(`{"changes":[{"id":4}]}`)
	require.Len(t, of(after.Cautions, caution.MarkedCode), 1)
	assert.False(t, of(after.Cautions, caution.MarkedCode)[0].New)
	out := v.try(`{"changes":[{"id":4,"at":[1400,2300]}]}`)
	assert.Len(t, of(out.Rid, caution.MarkedCode), 1)
	assert.True(t, of(out.Cautions, "height")[0].New, "2 m above the floor one takes a ladder")
	added := v.try(`{"changes":[{"id":0,"face":0,"at":[400,1500]}]}`)
	for _, c := range added.Cautions {
		assert.True(t, c.New)
	}
	assert.Len(t, of(added.Cautions, caution.MarkedCode), 1)
	both := v.try(`{"changes":[{"id":4,"face":1,"at":[400,1500]},{"id":5,"face":1,"at":[405,1500]}]}`)
	assert.Len(t, of(both.Cautions, caution.CodeOverlap), 2, "each of the other, where both would be")
	assert.Equal(t, http.StatusUnprocessableEntity, v.post("/api/try", `{"changes":[{"id":99}]}`).status)
}

// What somebody has decided about is told as that.
func TestADecidedCautionIsToldSo(t *testing.T) {
	v := served(t, small+"cautions:\n  acknowledged:\n    - {caution: marked, reason: the flue is cold, by: owner}\n")
	into := v.try(`{"changes":[{"id":4,"face":0,"at":[400,1500]}]}`)
	require.Len(t, of(into.Cautions, caution.MarkedCode), 1)
	assert.True(t, of(into.Cautions, caution.MarkedCode)[0].Decided)
}
