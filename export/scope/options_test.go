package scope

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// chosen returns the scope of the other tests beside two options of it: one that leaves the short wall
// bare and comes late, and one that is never done.
func chosen(t *testing.T) Scope {
	t.Helper()
	s := made(t, "30")
	w := work(t)
	light := s
	light.Faces, light.Pieces, light.Holes = s.Faces[:1], s.Faces[0].Pieces, s.Faces[0].Holes
	m := *s.Making
	light.Making = &m
	days, cost := *m.Days, *m.Cost
	days.FitsLate, days.Spare, days.DoneLate = new(false), 2, new("2027-04-02")
	cost.Total, cost.Over = Money{"40.00", "48.00", "55.00"}, new("-2.00")
	m.Days, m.Cost = &days, &cost
	late := s
	never := *s.Making
	never.Days = nil
	late.Making = &never
	return s.Beside([]Option{
		OptionOf("light", []string{"4 pieces", "Short wall bare"}, w, light),
		OptionOf("middle", nil, w, s),
		OptionOf("a | b", []string{"900 pieces"}, w, late),
	})
}

// rows returns the rows of a table by their names.
func rows(table Table) map[string][]string {
	out := map[string][]string{}
	for _, r := range table.Rows {
		out[r[0]] = r[1:]
	}
	return out
}

// The option that is the plan as it is written has the figures of the scope.
func TestThePlannedOptionHasTheFiguresOfTheScope(t *testing.T) {
	s := chosen(t)
	o := s.Options[1]
	assert.True(t, o.Planned)
	assert.Equal(t, "middle (as planned)", o.Title())
	assert.Equal(t, AsPlanned, OptionOf(AsPlanned, nil, work(t), s).Title())
	assert.Equal(t, s.Fingerprint, o.Fingerprint)
	assert.Equal(t, s.Pieces, o.Pieces)
	assert.Equal(t, s.Holes, o.Holes)
	assert.Equal(t, s.Making.Cost.Total, o.Cost.Money)
	assert.Equal(t, s.Making.Cost.Over, o.Cost.Over)
	assert.Equal(t, s.Making.Days, o.Days)
	assert.Equal(t, Span{s.Making.Hours.Expected, s.Making.Hours.Low, s.Making.Hours.High}, *o.Hours)
	all := s.WallTable("mm").Rows
	assert.Equal(t, all[len(all)-1][7], rows(s.OptionTable())["Covered of the faces used"][1])
	assert.Equal(t, []OptionWall{
		{"Long wall", true, s.Faces[0].Pieces, s.Faces[0].Holes}, {"Short wall", true, s.Faces[1].Pieces, s.Faces[1].Holes}, {"Bare wall", false, 0, 0},
	}, o.Walls)
}

func TestOptionTable(t *testing.T) {
	s := chosen(t)
	table := s.OptionTable()
	assert.Equal(t, []string{"", "light", "middle (as planned)", "a | b"}, table.Heads)
	for _, r := range table.Rows {
		assert.Len(t, r, 4)
	}
	r := rows(table)
	assert.Equal(t, []string{"bare", fmt.Sprint(s.Faces[1].Holes), fmt.Sprint(s.Faces[1].Holes)}, r["Holes in Short wall"])
	assert.NotContains(t, r, "Holes in Bare wall", "no option uses it")
	assert.Equal(t, []string{"£48.00", "£61.00", "£61.00"}, r["Cost, likely"])
	assert.Equal(t, []string{"£2.00 under", "£11.00 over", "£11.00 over"}, r["Budget of £50.00"])
	assert.Equal(t, []string{"barely", "yes", "not within ten years"}, r["In time for Wed 31 Mar 2027"])
	assert.Equal(t, "2", r["Days of work to spare"][0])
	assert.Equal(t, "Mon 29 Mar 2027", r["Last day to begin"][1], "Mondays are worked")
	said := fmt.Sprint(s.OptionNotes())
	assert.Contains(t, said, "Barely")
	assert.NotContains(t, said, "seed", "the client reads it too")

	s.Options[0].Days.Spare, s.Options[0].Days.Fits = -3, new(false)
	s.Options[0].Cost.Over = new("0.00")
	r = rows(s.OptionTable())
	assert.Equal(t, "no", r["In time for Wed 31 Mar 2027"][0])
	assert.Equal(t, "3 too few", r["Days of work to spare"][0])
	assert.Equal(t, "just that", r["Budget of £50.00"][0])
	assert.NotContains(t, fmt.Sprint(s.OptionNotes()), "Barely")
	assert.Empty(t, Scope{}.OptionTable().Rows)
}

// What the plan does not say has no row.
func TestOptionsOfWhatIsNotMade(t *testing.T) {
	s, err := Of(work(t))
	require.NoError(t, err)
	s = s.Beside([]Option{OptionOf(AsPlanned, nil, work(t), s), OptionOf("b", []string{"1 piece"}, work(t), s)})
	r := rows(s.OptionTable())
	assert.Contains(t, r, "Pieces")
	for name := range r {
		for _, part := range []string{"Work", "Cost", "Done", "time", "Budget"} {
			assert.NotContains(t, name, part)
		}
	}
}

func TestOptionsOnThePage(t *testing.T) {
	s := chosen(t)
	s.Options[0].Picture = "option-01-light.svg"
	var b bytes.Buffer
	require.NoError(t, WriteMarkdown(&b, work(t), s))
	page := b.String()
	for _, want := range []string{
		"|  | light | middle (as planned) | a \\| b |\n| --- | ---: | ---: | ---: |\n|  | ![light](option-01-light.svg) |  |  |\n| Pieces | ",
		"- **light**: 4 pieces; Short wall bare\n- **middle**: the plan as it is written\n- **a \\| b**: 900 pieces\n",
	} {
		assert.Contains(t, page, want)
	}
	assert.Equal(t, 1, strings.Count(page, "## Options side by side"))

	s.Options = nil
	b.Reset()
	require.NoError(t, WriteMarkdown(&b, work(t), s))
	assert.NotContains(t, b.String(), "Options")
}

func TestOptionsAreReadBack(t *testing.T) {
	s := chosen(t)
	var b bytes.Buffer
	require.NoError(t, WriteJSON(&b, s))
	back, err := Read("scope.json", b.Bytes())
	require.NoError(t, err)
	assert.Equal(t, s.Options, back.Options)
	assert.Empty(t, Compare(s, back))
	var raw map[string]any
	require.NoError(t, json.Unmarshal(b.Bytes(), &raw))
	assert.Len(t, raw["options"], 3)
}
