package knob

import (
	"fmt"
	"math/rand/v2"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/examples"
	"wallshoal/scatter"
)

// house is a plan with all that an option can change, written with comments and in several styles.
const house = `title: Leaves   # so it is called
seed: 3

room:
  walls:
    - {name: Long wall, length: 4000, height: 2500, surface: brick}   # the long one
    - name: Short wall
      length: 3000
      height: 2500
      surface: plaster
      # what stands there
      obstructions:
        - {kind: boxing, name: pipe boxing, left: 2000, bottom: 0, width: 600, height: 1200, depth: 200, use: [front, top]}
        - kind: boxing
          name: old boxing   # of oak
          left: 200
          bottom: 0
          width: 500
          height: 900
          depth: 150
          use: all           # three sides
    - {name: Back wall, length: 4000, height: 2500, surface: brick, use: false}
    - name: Door wall
      length: 3000
      height: 2500
      surface: brick
      use: false      # until the doors are moved
  ceiling: {surface: plasterboard}

pieces:
  - name: Leaf
    code: A
    outline: {ellipse: [80, 22]}
    holes: [{at: [0, 0], bit: 1.5, depth: 25, fixing: pin}]
    stand-off: 12
    share: 3          # most of them
    sizes: [100 %, 80 %]
  - {name: Twig, code: B, outline: {ellipse: [60, 20]}, holes: [{at: [0, 0], bit: 1.5, depth: 25, fixing: pin}], stand-off: 5, share: 1}
  - name: Berry
    code: C
    outline: {ellipse: [20, 20]}
    holes: [{at: [0, 0], bit: 1.5, depth: 25, fixing: pin}]
    stand-off: 5
    count: 10         # a few
    # red

composition:
  count: 100
  spacing: 95         # centres
  gap: 4
  # where it gathers
  density:            # to the right it thins out
    fade: {towards: right, over: 800}   # slowly
    # and nothing else
  spread: 10
`

// withBase is house with a number to an area in place of the count.
func withBase() string {
	return strings.NewReplacer("  count: 100\n", "", "    fade: {towards: right, over: 800}   # slowly\n", "    base: 4 per m2    # so many\n    fade: {towards: right, over: 800}   # slowly\n").Replace(house)
}

// options returns random options.
func options(rng *rand.Rand, n int) string {
	var b strings.Builder
	b.WriteString("options:\n")
	pick := func(of ...string) string { return of[rng.IntN(len(of))] }
	for i := range n {
		var says []string
		maybe := func(of ...string) {
			if rng.IntN(3) == 0 {
				says = append(says, pick(of...))
			}
		}
		maybe("count: 60", "count: 44", "count: 100", "count: 31")
		maybe("spacing: 90", "spacing: 120 mm", `spacing: "9.5 cm"`, "spacing: 95")
		maybe("gap: 0", "gap: 6.5")
		maybe("density: even", "density: {bands: {to: 1500, strength: 2}}", "density: {fade: [{towards: edges, over: 300, rest: 20 %}], drift: 1}",
			"density: {gather: {round: {wall: Long wall, at: [900, 1200]}, strength: 3}}")
		maybe("walls: [Long wall, Back wall]", "walls: [Door wall, Ceiling]", "walls: [Short wall]", "bare: [Ceiling]", "bare: [pipe boxing, old boxing]",
			"bare: [Short wall]", "walls: [Short wall, Long wall]\n    bare: [old boxing]")
		maybe("counts: {C: 4}", "counts: {C: 0, B: 6}", "shares: {A: 1, B: 2}", "shares: {B: 0}", "counts: {A: 20}\n    shares: {C: 1}")
		fmt.Fprintf(&b, "  - name: way %d\n", i+1)
		for _, s := range says {
			fmt.Fprintf(&b, "    %s\n", s)
		}
	}
	return b.String()
}

var (
	quotaLine = regexp.MustCompile(`^ *(?:- )?(?:count|spacing|gap|use|share|base): `)
	quotaPair = regexp.MustCompile(`,? ?\b(?:use|count|share): (?:\[[^]]*\]|[^,}]+)`)
)

// untouched returns the lines of a plan less those that an option can change, and less its options.
func untouched(text string) []string {
	text, rest, _ := strings.Cut(text, "\noptions:")
	if _, after, found := strings.Cut(rest, "\n\n"); found {
		text += "\n\n" + after
	}
	var lines []string
	within := -1 // the indentation of density, while in it
	for _, line := range strings.Split(text, "\n") {
		indent := len(line) - len(strings.TrimLeft(line, " "))
		if within >= 0 && indent > within {
			continue
		}
		within = -1
		switch {
		case strings.HasPrefix(strings.TrimSpace(line), "density:"):
			within = indent
		case strings.Contains(line, "# and nothing else"): // below what may be gone
		case !quotaLine.MatchString(line):
			if strings.Contains(line, "{") { // what stands in braces changes within its line, and a comment behind them gives way
				line = strings.Join(strings.Fields(quotaPair.ReplaceAllString(line, "")), " ")
			}
			lines = append(lines, line)
		}
	}
	return lines
}

// taken takes an option and holds what comes of it to all that TakeOption promises.
func taken(t *testing.T, name, text string, option int) (Taking, bool) {
	t.Helper()
	read := func(text []byte) (job.Job, error) { return job.ReadBeside(name, text, examples.Files) }
	j, err := read([]byte(text))
	require.NoError(t, err, text)
	o := j.Plan.Options[option]
	taking, err := TakeOption(j, []byte(text), option, read)
	if idle(o) {
		require.ErrorContains(t, err, o.Name+" changes nothing")
		return taking, false
	}
	if err != nil && strings.Contains(err.Error(), "change or remove that option first") {
		return taking, false // another would have a fault beside it
	}
	require.NoError(t, err, "%s of\n%s", o.Name, text)
	again, err := read(taking.Text)
	require.NoError(t, err)
	for _, left := range again.Plan.Options {
		if left.Name == o.Name {
			assert.Empty(t, left.Changes, "it is the plan now")
		}
	}
	assert.Len(t, again.Plan.Options, len(j.Plan.Options), "all stay")
	assert.Equal(t, untouched(text), untouched(string(taking.Text)))

	_, want, wrong := j.LayOption(t.Context(), option, j.Plan.Seed)
	got, err := again.LayFrom(t.Context(), scatter.Start{}, again.Plan.Seed, nil)
	if wrong != nil {
		require.Error(t, err, "neither has room")
		return taking, false
	}
	require.NoError(t, err)
	require.Equal(t, want, got, "%s\n\n%s", text, taking.Text)
	return taking, true
}

// A plan into which an option was written asks for what the option asked for: the same layout to the last bit.
func TestATakenOptionIsThePlan(t *testing.T) {
	for name, text := range plans() {
		j, err := job.ReadBeside(name, []byte(text), examples.Files)
		require.NoError(t, err)
		for i, o := range j.Plan.Options {
			t.Run(name+", "+o.Name, func(t *testing.T) {
				taken(t, name, text, i)
			})
		}
	}
}

func TestTakenOptionsOfManyPlans(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 19))
	tries, good := 12, 0
	if os.Getenv("CI") == "true" {
		tries = 120
	}
	for n := range tries {
		text := house
		if n%4 == 3 {
			text = withBase()
		}
		text += options(rng, 1+rng.IntN(3)) + "\n# the end\n"
		switch n % 5 {
		case 1:
			text = strings.ReplaceAll(text, "\n", "\r\n")
		case 2:
			text = "\ufeff" + text
		}
		j, err := job.Read("house", []byte(text))
		if err != nil {
			continue // an option has a fault of its own
		}
		for i := range j.Plan.Options {
			if _, ok := taken(t, "house", text, i); ok {
				good++
			}
		}
	}
	assert.Greater(t, 3*good, tries, "so many could be tried")
}

// What a kind has is written at its place, with its comment; what is said otherwise goes; the end of the file stays.
func TestWhatIsWritten(t *testing.T) {
	text := house + `options:
  - name: few   # of everything
    count: 60
    gap: 6.5
    density: {bands: {to: 1500, strength: 2}}
    walls: [Long wall, Short wall, Door wall]
    bare: [old boxing]
    counts: {C: 4}
    shares: {A: 1, B: 0}
  - name: also few
    count: 60
    bare: [old boxing]
  - name: as it is

# the end
`
	taking, ok := taken(t, "house", text, 0)
	require.True(t, ok)
	assert.Equal(t, strings.NewReplacer(
		"count: 100\n", "count: 60\n", "gap: 4\n", "gap: 6.5\n",
		"  density:            # to the right it thins out\n    fade: {towards: right, over: 800}   # slowly\n",
		"  density: {bands: {to: 1500, strength: 2}} # to the right it thins out\n",
		"      use: false      # until", "      use: true       # until",
		"          use: all           # three sides\n", "",
		"{surface: plasterboard}", "{surface: plasterboard, use: false}",
		"share: 3          # most", "share: 1          # most", "stand-off: 5, share: 1}", "stand-off: 5, share: 0}",
		"count: 10         # a few", "count: 4          # a few",
	).Replace(text), string(taking.Text))
}

// Where an option cannot be written without harm, one message says why, and nothing changes.
func TestWhatCannotBeTaken(t *testing.T) {
	read := func(text []byte) (job.Job, error) { return job.Read("house", text) }
	for _, tt := range []struct{ name, from, to, options, want string }{
		{"nothing", "", "", "  - {name: a}\n", "a changes nothing: it is the plan as it is written"},
		{"a comment in braces", "use: all           # three sides", "use: [front, # three sides\n            left]",
			"  - {name: a, bare: [old boxing]}\n", ""},
		{"a comment beside it in braces", "  ceiling: {surface: plasterboard}", "  ceiling: {surface: plasterboard, # white\n    use: true, # for now\n    margin: 50}",
			"  - {name: a, bare: [Ceiling]}\n", ""},
		{"a count in braces with comments", "stand-off: 5, share: 1}", "stand-off: 5, share: # of all\n    1, turned: 0}",
			"  - {name: a, counts: {B: 4}}\n", "a cannot be written into the plan: pieces[1].share: has comments"},
		{"what another rests on", "", "", "  - {name: a, counts: {A: 20, B: 10, C: 5}, count: 35}\n  - {name: b, counts: {C: 6}, count: 36, gap: 3}\n  - {name: c, count: 70}\n",
			"a cannot be written into the plan: the option c.count: 70 is more than the 35"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			text := []byte(strings.Replace(house, tt.from, tt.to, 1) + "options:\n" + tt.options)
			j, err := read(text)
			require.NoError(t, err)
			taking, err := TakeOption(j, text, 0, read)
			if tt.want == "" {
				require.NoError(t, err)
				return
			}
			require.ErrorContains(t, err, tt.want)
			assert.Empty(t, taking.Text)
			assert.NotContains(t, err.Error(), "\n")
		})
	}
}
