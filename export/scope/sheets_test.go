package scope

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/holemap"
)

// The page adds up the sheets of all faces; without any it says nothing of them.
func TestTheScopeAddsUpTheSheets(t *testing.T) {
	s := Scope{}.Cut([]Sheets{
		{Wall: "Long wall", Face: "wall", Paper: "A4", Sheets: 40, Saved: 12, Near: 5, Round: 2},
		{Wall: "Stair | wall", Face: "wall", Paper: "A4", Sheets: 7, Near: 1},
	})
	var md, js, none bytes.Buffer
	require.NoError(t, WriteMarkdown(&md, holemap.Work{}, s))
	assert.Contains(t, md.String(), "| **All** |  | 47 | 12 | 6 | 2 |")
	require.NoError(t, WriteJSON(&js, s))
	var back Scope
	require.NoError(t, json.Unmarshal(js.Bytes(), &back))
	assert.Equal(t, s.Sheets, back.Sheets)
	require.NoError(t, WriteMarkdown(&none, holemap.Work{}, Scope{}))
	assert.NotContains(t, none.String(), "hole map")
}
