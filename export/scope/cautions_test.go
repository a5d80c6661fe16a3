package scope

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/caution"
	"wallshoal/export/holemap"
)

// within returns the work with its cautions found anew under the limits.
func within(t *testing.T, change func(*caution.Limits)) holemap.Work {
	t.Helper()
	w := work(t)
	limits := caution.UsualLimits()
	change(&limits)
	m, err := holemap.MakeWithin(w.Site, w.Kinds, w.Layout, limits)
	require.NoError(t, err)
	w.Map = m
	return w
}

func onPage(t *testing.T, w holemap.Work) (Scope, string) {
	t.Helper()
	s, err := Of(w)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, WriteMarkdown(&b, w, s))
	return s, b.String()
}

func TestWhatIsAcknowledgedHasAHeadingOfItsOwn(t *testing.T) {
	s, page := onPage(t, within(t, func(l *caution.Limits) {
		l.Acknowledged = []caution.Acknowledgement{
			{Code: "old-finishes", Wall: "Long wall", Reason: "surveyed in May", By: "building manager"},
			{Code: "heat", Wall: "Short wall", Reason: "the stove is gone.", By: "caretaker"},
			{Code: "glass", Reason: "it was clad", By: "glazier"},
		}
	}))
	_, open := onPage(t, work(t))
	ask, decided, found := strings.Cut(page, "### Acknowledged: somebody has decided, and they hold all the same")
	require.True(t, found)
	assert.NotContains(t, open, "### Acknowledged")
	assert.Contains(t, decided, "- **old-finishes** (ask), Long wall (3 holes of 2 pieces). Acknowledged by the building manager: surveyed in May. Old paint can hold lead")
	assert.Contains(t, ask, "- **old-finishes**, Short wall", "on the other wall nobody has decided")
	assert.Equal(t, strings.Count(open, "old-finishes"), strings.Count(page, "old-finishes")-1, "it is said of each wall by itself")

	heading := "### Acknowledged, and not found"
	_, unmet, found := strings.Cut(page, heading)
	require.True(t, found)
	assert.Contains(t, unmet, "- heat is acknowledged on Short wall by the caretaker, and there is no such caution in this layout: the stove is gone.\n")
	assert.Contains(t, unmet, "- glass is acknowledged by the glazier, and there is no such caution in this layout: it was clad.\n")
	assert.Equal(t, []Unmet{{"heat", "Short wall", "caretaker", "the stove is gone."}, {"glass", "", "glazier", "it was clad"}}, s.Unmet)
	assert.NotContains(t, open, heading)
}

// Every caution stands under exactly one heading, decided or not.
func TestEveryCautionIsListedOnce(t *testing.T) {
	s, _ := onPage(t, within(t, func(l *caution.Limits) {
		l.Acknowledged = []caution.Acknowledgement{{Code: "hidden-services", Reason: "scanned", By: "electrician"}, {Code: "weight", Reason: "tried", By: "rigger"}}
	}))
	n := 0
	for _, part := range Severities() {
		for _, group := range alike(s.Cautions, part.Name) {
			n += len(group)
			for _, c := range group {
				assert.Equal(t, part.Name == Decided, c.Acknowledged != nil)
			}
		}
	}
	assert.Equal(t, len(s.Cautions), n)
	assert.Len(t, slices.DeleteFunc(slices.Clone(s.Cautions), func(c Caution) bool { return c.Acknowledged == nil }), 4)
}

// A piece of 200 by 100 mm and one of 100 by 100 on 4 by 2.5 m are 0.3 %, and one of 100 by 100 on 2 by
// 2.5 m is 0.2 %.
func TestTheShareThatBurnsIsToldWhetherItIsKeptOrNot(t *testing.T) {
	for limit, kept := range map[float64][2]string{0.10: {"yes", "yes"}, 0.0025: {"no", "yes"}} {
		w := work(t)
		for i := range w.Kinds {
			w.Kinds[i].Combustible = true
		}
		w.Layout.Pieces = slices.Clone(w.Layout.Pieces)
		limits := caution.UsualLimits()
		limits.CombustibleShare = limit
		m, err := holemap.MakeWithin(w.Site, w.Kinds, w.Layout, limits)
		require.NoError(t, err)
		w.Map = m
		s, page := onPage(t, w)
		table := s.BurnTable(w.Units)
		require.Len(t, table.Rows, 2)
		for i, row := range table.Rows {
			assert.Equal(t, kept[i], row[4])
			assert.Contains(t, page, "| "+strings.Join(row, " | ")+" |")
			assert.InDelta(t, s.Burns[i].Covered/s.Burns[i].Area, s.Burns[i].Share, 5e-5)
			assert.Equal(t, row[4] == "yes", s.Burns[i].Kept)
		}
	}
	_, page := onPage(t, work(t))
	assert.NotContains(t, page, "### What burns", "nothing does")
}
