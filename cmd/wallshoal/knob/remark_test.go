package knob

import (
	"os"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/examples"
	"wallshoal/scatter"
	"wallshoal/wall/measure"
)

// Every knob of every example does something whichever way it is turned, or a remark says what it does not do; and
// what is said to change nothing changes nothing. A knob of the paper or of the datum changes sheets, not the layout.
func TestNoKnobIsDeadWithoutAWord(t *testing.T) {
	all := plans()
	all["house"], all["alone"] = house, alone
	for name, text := range all {
		if os.Getenv("CI") != "true" && name != "alone" && name != "house" {
			continue // laid many times over
		}
		t.Run(name, func(t *testing.T) {
			j, err := job.ReadBeside(name, []byte(text), examples.Files)
			require.NoError(t, err)
			now, err := j.LayFrom(t.Context(), scatter.Start{}, j.Plan.Seed, nil)
			require.NoError(t, err)
			remarks := Remarks(j, []byte(text), now, true)
			for _, k := range Of(j, []byte(text)) {
				if strings.HasPrefix(k.ID, "print.") || k.ID == datumField {
					continue
				}
				remark := remarks[k.ID]
				for _, value := range bothWays(k) {
					turned, err := Change(j, []byte(text), []Setting{{k.ID, value}})
					require.NoError(t, err, k.ID)
					changed, err := j.Reread(name, turned, examples.Files)
					if err != nil {
						continue
					}
					layout, err := changed.LayFrom(t.Context(), scatter.Start{}, changed.Plan.Seed, nil)
					if err != nil {
						continue
					}
					v, _ := (&board{units: j.Plan.Units, unit: unitOf(j)}).number(k.Type, value)
					below := k.Known && v < k.Number
					same := reflect.DeepEqual(now.Pieces, layout.Pieces)
					switch {
					case same:
						assert.NotEmpty(t, remark.Text, "%s from %s to %s", k.ID, k.Value, value)
					case remark.Idle == Idle, remark.Idle == IdleBelow && below:
						assert.Fail(t, "what is said is not so", "%s from %s to %s: %s", k.ID, k.Value, value, remark.Text)
					}
				}
			}
		})
	}
}

// alone is a plan with many knobs that have nothing to do.
const alone = `title: Alone
room:
  walls:
    - {name: One, length: 3000, height: 2500, surface: brick}
pieces:
  - {name: Disc, code: D, outline: {ellipse: [60, 40]}, holes: [{at: [0, 0], bit: 5, depth: 30, fixing: pin}], stand-off: 5, share: 2}
composition:
  count: 40
  spacing: 60
  spread: 0
  differ: 10
  second: {turn: 40, share: 0 %}
  flow:
    - {sweep: 80, strength: 2}
  density:
    gather: {round: {wall: One, at: [1500, 1200]}, strength: 1, reach: 400}
    bands: {from: 300, to: 900, strength: 1}
`

// What is asked and what hangs stand side by side where they differ.
func TestAskedAndHung(t *testing.T) {
	j, err := job.ReadBeside("ferry", []byte(examples.Ferry), examples.Files)
	require.NoError(t, err)
	now, err := j.LayFrom(t.Context(), scatter.Start{}, j.Plan.Seed, nil)
	require.NoError(t, err)
	require.Empty(t, Remarks(j, []byte(examples.Ferry), now, false))
	more := now.Pieces[0]
	more.ID, more.Kind = 441, len(j.Plan.Kinds)-1
	now.Pieces = append(now.Pieces, more)
	assert.Equal(t, map[string]Remark{"composition.count": {Text: "the plan asks for 440, and 441 are on the walls"}, "pieces[5].count": {Text: "the plan asks for 24, and 25 are on the walls"}},
		Remarks(j, []byte(examples.Ferry), now, false))
}

func unitOf(j job.Job) float64 {
	mm, _ := measure.Parse("1", j.Plan.Units)
	return mm
}

// bothWays returns a lower and a higher value of a knob, or another one.
func bothWays(k Knob) []string {
	if !k.Known {
		return []string{other(k)}
	}
	step := max(k.Step, (k.Max-k.Min)/20)
	if k.Type == Whole {
		step = float64(int(step))
	}
	if k.ID == "seed" {
		step = 1
	}
	var out []string
	unit := ""
	if k.Type == Percent {
		unit = " %"
	}
	if v := max(k.Min, k.Number-step); v != k.Number {
		out = append(out, strconv.FormatFloat(round(v), 'f', -1, 64)+unit)
	}
	if v := min(k.Max, k.Number+step); v != k.Number {
		out = append(out, strconv.FormatFloat(round(v), 'f', -1, 64)+unit)
	}
	return out
}

// Below what the pieces keep anyway the spacing changes nothing, be it by little or by much; whatever the number.
func TestSpacingBelowWhatIsReached(t *testing.T) {
	tries := 2
	if os.Getenv("CI") == "true" {
		tries = 12
	}
	for n := range tries {
		text := strings.Replace(house, "count: 100", "count: "+strconv.Itoa(30+n*13%70), 1)
		text = strings.Replace(text, "seed: 3", "seed: "+strconv.Itoa(n), 1)
		lay := func(spacing float64) (job.Job, []byte, scatter.Layout) {
			spaced := []byte(strings.Replace(text, "spacing: 95", "spacing: "+strconv.FormatFloat(spacing, 'f', 1, 64), 1))
			j, err := job.Read("house", spaced)
			require.NoError(t, err)
			layout, err := j.LayFrom(t.Context(), scatter.Start{}, j.Plan.Seed, nil)
			require.NoError(t, err)
			return j, spaced, layout
		}
		for _, spacing := range []float64{70, 95} {
			j, spaced, layout := lay(spacing)
			if Remarks(j, spaced, layout, true)["composition.spacing"].Idle != IdleBelow {
				continue
			}
			for _, less := range []float64{0.97, 0.6} {
				_, _, again := lay(less * spacing)
				assert.Equal(t, layout.Pieces, again.Pieces, "%v pieces, %v to %v", len(layout.Pieces), spacing, less*spacing)
			}
		}
	}
}
