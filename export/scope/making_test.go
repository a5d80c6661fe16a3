package scope

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/calendar"
	"wallshoal/export/cost"
	"wallshoal/export/decimal"
	"wallshoal/export/hours"
	"wallshoal/export/making"
	"wallshoal/export/materials"
	"wallshoal/export/nesting"
	"wallshoal/export/number"
	"wallshoal/wall"
)

func num(t *testing.T, text string) decimal.Number {
	t.Helper()
	n, err := decimal.Parse(text)
	require.NoError(t, err)
	return n
}

// made returns the work of the other tests with what making it takes: each hole takes a pin of 0.10, and
// an hour of work 30.
func made(t *testing.T, hourly string) Scope {
	t.Helper()
	w := work(t)
	in := calendar.On(2027, time.March, 31)
	m, err := making.Of(making.Asked{
		Counts: making.Count(w, 4), Kinds: w.Kinds, Stock: map[string]int{w.Kinds[0].Code: 1},
		Sheets: []making.Sheets{{
			Stock: nesting.Stock{Name: "card", Width: 1000, Height: 1000, Margin: 5, Gap: 3, Turn: nesting.Half}, Cuts: []string{w.Kinds[1].Code},
		}},
		Materials: []materials.Material{
			{Name: "pins", Per: materials.PerHole, Amount: materials.Amount{Value: decimal.Of(1)}, Pack: materials.Amount{Value: decimal.Of(10)}, Price: new(num(t, "1"))},
			{Name: "grey", Per: materials.PerJob, Amount: materials.Amount{Value: decimal.Of(90), Base: materials.Millilitre}},
			{Name: "white", Pack: materials.Amount{Value: decimal.Of(1500), Base: materials.Millilitre}},
			{Name: "black", Pack: materials.Amount{Value: decimal.Of(50), Base: materials.Millilitre}},
		},
		Recipes: []materials.Recipe{{Name: "grey", Parts: []materials.Part{{Name: "white", Parts: decimal.Of(2)}, {Name: "black", Parts: decimal.Of(1)}}, Step: materials.Amount{Value: decimal.Of(1)}}},
		Hours: &making.Hours{Likelihood: 0.8, Operations: []making.Operation{
			{Operation: hours.Operation{Name: "prepare", Per: hours.Job, Judged: &hours.Judged{Least: 60, Likely: 120, Most: 180}}},
		}},
		Calendar: &making.Calendar{
			Calendar: calendar.Calendar{Opens: 540, Hours: [7]int{1: 480}, Crew: 1}, From: calendar.On(2027, time.March, 1), Install: &in,
		},
		Cost: &making.Cost{
			Estimate: cost.Estimate{
				Currency: cost.Currency{Before: "£", Digits: 2}, Rounding: cost.ByLine,
				Items:  []cost.Item{{Name: "work", Price: cost.Sure(num(t, hourly))}, {Name: "materials", Times: cost.Sure(decimal.Of(1))}},
				Stages: []cost.Stage{{Name: "on order", Share: decimal.Of(1)}},
			},
			Of: []string{making.OfHours, making.OfMaterials}, Budget: new(num(t, "50")),
		},
	})
	require.NoError(t, err)
	s, err := Of(w)
	require.NoError(t, err)
	return s.Made(m)
}

func TestMakingOnThePage(t *testing.T) {
	s := made(t, "30")
	var b bytes.Buffer
	require.NoError(t, WriteMarkdown(&b, work(t), s))
	page := b.String()
	pins := s.Holes
	require.LessOrEqual(t, pins, 10)
	for _, row := range []string{
		"**the likely figure is £11.00 over the budget of £50.00**", // two hours and a pack of pins: 61
		"| pins | ", "1 pack of 10 |",
		"| grey | 90 ml | 0 ml | mixed | 0 ml |  |",
		"| white | 60 ml | 0 ml | 1 × 1.5 l | 1.44 l | not known |",
		"| black | 1 | 30 ml |",
		"- `nest-01.svg`, of card: cut once; 2 R",
		"| prepare | 1 job | judgement | 2 h |",
		"Begun on Mon 1 Mar 2027, the work is done on Mon 1 Mar 2027.",
		"| **Total** | ", " £61.00 |",
		"- on order: £61.00",
		"To be given: What does it cost: white, black?",
	} {
		assert.Contains(t, page, row)
	}
	assert.NotContains(t, page, "What the plan does not say yet")
	assert.NotContains(t, page, "are not counted here")
}

// What nothing is known of is no work of no minutes.
func TestUnknownHoursAreNoHours(t *testing.T) {
	s := made(t, "30")
	s.Making.Hours.Operations[0].Basis = string(hours.Unknown)
	s.Making.Hours.Missing = []string{"prepare"}
	var b bytes.Buffer
	require.NoError(t, WriteMarkdown(&b, work(t), s))
	assert.Contains(t, b.String(), "| prepare | 1 job | to be given |  |  |")
	assert.Contains(t, b.String(), "It is without prepare")
}

func TestWhatToAddToAPlan(t *testing.T) {
	bare, err := Of(work(t))
	require.NoError(t, err)
	w := work(t)
	m, err := making.Of(making.Asked{Counts: making.Count(w, 0), Kinds: w.Kinds})
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, WriteMarkdown(&b, w, bare.Made(m)))
	for _, section := range []string{"sheets", "materials", "hours", "calendar", "cost"} {
		assert.Contains(t, b.String(), "\n- Add `"+section+":`")
	}
	for _, heading := range []string{"## In short", "## Hours", "## Days", "## Cost", "## Materials", "## Sheets to cut"} {
		assert.NotContains(t, b.String(), heading)
	}
}

func TestMakingInJSON(t *testing.T) {
	s := made(t, "30.10")
	var b bytes.Buffer
	require.NoError(t, WriteJSON(&b, s))
	back, err := Read("scope.json", b.Bytes())
	require.NoError(t, err)
	assert.Equal(t, s, back)
	assert.Empty(t, Compare(s, back))
	assert.Equal(t, "61.20", s.Making.Cost.Total.Likely)
	assert.Contains(t, b.String(), `"likely": "61.20"`, "money is written as text")
}

func TestChangesAreToldHolesFirst(t *testing.T) {
	old, now := made(t, "30"), made(t, "33")
	now.Holes, now.Pieces, now.Fingerprint = now.Holes+2, now.Pieces-1, "OTHER"
	now.Faces = append([]Face{}, now.Faces...)
	now.Faces[0].Holes++
	now.Making.Days.Done = "2027-03-08"
	all := Compare(old, now)
	var parts []string
	for _, c := range all {
		if len(parts) == 0 || parts[len(parts)-1] != c.Part {
			parts = append(parts, c.Part)
		}
	}
	assert.Equal(t, []string{Holes, Pieces, Walls, CostPart, DaysPart}, parts)
	var b bytes.Buffer
	require.NoError(t, WriteChanges(&b, all))
	for _, line := range []string{"2 more", "fingerprint OTHER, was", "1 fewer", "total: £67.00", "£6.00 more", "done: 2027-03-08, was 2027-03-01"} {
		assert.Contains(t, b.String(), line)
	}

	b.Reset()
	require.NoError(t, WriteChanges(&b, Compare(old, old)))
	assert.Equal(t, "Nothing has changed.\n", b.String())

	none := old
	none.Making = nil
	b.Reset()
	require.NoError(t, WriteChanges(&b, Compare(none, old)))
	assert.Contains(t, b.String(), "was not given")
	b.Reset()
	require.NoError(t, WriteChanges(&b, Compare(old, none)))
	assert.Contains(t, b.String(), "is not given any more")
}

// Whatever a file holds is a scope that can be compared and told, or is complained of.
func FuzzReadScope(f *testing.F) {
	f.Add([]byte(`{"fingerprint":"A","holes":1,"making":{"cost":{"total":{"likely":"1e9"}},"days":{},"materials":[{"name":"x"}]}}`))
	f.Add([]byte(`{"fingerprint":"A","faces":[{},{}],"kinds":null,"making":{"hours":{},"cost":{"currency":{"digits":-7},"total":{"likely":"1"}}}}`))
	f.Add([]byte(`[]`))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := Read("s", data)
		if err != nil {
			assert.Contains(t, err.Error(), "; name a scope.json")
			return
		}
		assert.Empty(t, Compare(s, s))
		other := s
		other.Making = &Making{Cost: &Cost{Total: Money{"1", "2", "3"}}}
		var b bytes.Buffer
		require.NoError(t, WriteChanges(&b, Compare(s, other)))
		require.NoError(t, WriteChanges(&b, Compare(other, s)))
		assert.False(t, strings.ContainsRune(b.String(), 0))
	})
}

func TestAScopeThatIsNone(t *testing.T) {
	for _, text := range []string{"", "title: x", "{}", `{"fingerprint": "A", "holes": -1}`, `{"fingerprint": 3}`} {
		_, err := Read("s.json", []byte(text))
		assert.ErrorContains(t, err, `"s.json"`, text)
	}
	var s Scope
	require.NoError(t, json.Unmarshal([]byte(`{"fingerprint":"A"}`), &s))
}

// Holes are in what carries pieces: one wall, several, the ceiling.
func TestWhatBearsThePieces(t *testing.T) {
	w := work(t)
	w.Site.Room.Walls = []wall.Wall{{Name: "One"}, {Name: "Two"}, {Name: "Bare"}, {Name: "Above", Ceiling: true}}
	for want, on := range map[string][]string{
		"the wall": {"One", "One"}, "2 walls": {"One", "Two", "One"}, "one wall and the ceiling": {"Two", "Above"},
		"2 walls and the ceiling": {"One", "Two", "Above"}, "the ceiling": {"Above"},
	} {
		s := Scope{Faces: []Face{{Wall: "Bare"}}}
		for _, name := range on {
			s.Faces = append(s.Faces, Face{Wall: name, Pieces: 1})
		}
		in, _ := s.bears(w)
		assert.Equal(t, want, in)
	}
}

// Money is in groups of three digits for people, and plain for programs.
func TestLargeSums(t *testing.T) {
	s := made(t, "3010.10")
	var page, data bytes.Buffer
	require.NoError(t, WriteMarkdown(&page, work(t), s))
	require.NoError(t, WriteJSON(&data, s))
	assert.Equal(t, "6021.20", s.Making.Cost.Total.Likely)
	assert.Contains(t, page.String(), "6"+number.Space+"021.20")
	assert.NotContains(t, page.String(), "6021.20")
	assert.Contains(t, data.String(), `"likely": "6021.20"`)
}
