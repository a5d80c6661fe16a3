package yamlfile_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"wallshoal/cmd/wallshoal/yamlfile"
)

// Files made to keep a reader busy get a message, and soon. The time allowed is far above what
// they take, and far below what a reader takes that copies, compares all with all, or unfolds.
func TestHostileFiles(t *testing.T) {
	times := []int{1 << 22, 100_000, 300}
	if testing.Short() {
		times = []int{5000}
	}
	for _, most := range times {
		t.Run(fmt.Sprint("at most ", most, " times"), func(t *testing.T) {
			for name, data := range hostile(most) {
				t.Run(name, func(t *testing.T) { readSoon(t, data) })
			}
		})
	}
}

func readSoon(t *testing.T, data string) {
	if len(data) > yamlfile.MaxBytes {
		data = data[:yamlfile.MaxBytes]
	}
	var err error
	took := leastTime(10*time.Second, func() { err = yamlfile.Read("f.yaml", []byte(data), yamlfile.MaxBytes, walk) })
	t.Log(took, strings.SplitN(fmt.Sprint(err), "\n", 2)[0])
	assert.Less(t, took, 10*time.Second)
}

// leastTime returns how long f takes; where that is over the limit, the least of three runs, since
// a busy machine may halt any one of them.
func leastTime(limit time.Duration, f func()) time.Duration {
	least := time.Duration(math.MaxInt64)
	for range 3 {
		start := time.Now()
		f()
		if least = min(least, time.Since(start)); least < limit {
			break
		}
	}
	return least
}

// hostile returns files in which something stands as often as they have room for it, and at most
// so often.
func hostile(most int) map[string]string {
	n := yamlfile.MaxBytes - 100
	repeat := func(s string) string { return strings.Repeat(s, min(most, n/len(s))) }
	lines := func(form string) string {
		var b strings.Builder
		for i := 0; b.Len() < n && i < most; i++ {
			fmt.Fprintf(&b, form, i)
		}
		return b.String()
	}
	bomb := "a0: &a0 [x, x]\n"
	for i := range 40 {
		bomb += fmt.Sprintf("a%d: &a%d [*a%d, *a%d]\n", i+1, i+1, i, i)
	}
	return map[string]string{
		"alias bomb":          bomb,
		"merge bomb":          "a: &a {x: 1}\nb: {<<: [*a, *a, *a]}\n",
		"open brackets":       repeat("["),
		"open braces":         repeat("{a: "),
		"open braces in turn": repeat("{[-"),
		"dashes":              repeat("- "),
		"question marks":      repeat("? "),
		"colons":              repeat(": "),
		"keys":                lines("k%d: 1\n"),
		"keys, all alike":     repeat("k: 1\n"),
		"flow keys":           "{" + lines("k%d: 1, ") + "}",
		"items":               repeat("- a\n"),
		"flow items":          "a: [" + repeat("1,") + "]",
		"anchors":             lines("k%d: &a 1\n"),
		"comments":            "a: 1\n" + repeat("# b\n"),
		"comments after":      repeat("a: 1 # b\n"),
		"indented comments":   "a:\n" + repeat("  # b\n"),
		"hashes":              "a: " + repeat("#"),
		"line breaks":         "a: 1" + repeat("\n"),
		"quoted line breaks":  `a: "` + repeat("\n") + `"`,
		"folded":              "a: >\n" + repeat(" b\n\n"),
		"plain over lines":    "a: b\n" + repeat(" c\n"),
		"documents":           repeat("---\n"),
		"dots":                repeat("...\n"),
		"directives":          repeat("%TAG ! a\n"),
		"tags":                "a: " + repeat("!a "),
		"escapes":             `a: "` + repeat(`\x41`) + `"`,
		"quotes":              repeat(`"`),
		"single quotes":       "a: " + repeat(`'`),
		"tabs":                repeat("\t"),
		"spaces":              repeat(" "),
		"ever deeper":         deeper(min(most, 2000)),
		"steps":               steps(min(most, 2000)),
		"stars":               repeat("*a "),
		"exclamation":         repeat("!"),
		"nul":                 repeat("\x00"),
		"no UTF-8":            repeat("\xff"),
		"UTF-16":              "\xff\xfea\x00:\x00",
		"null items":          "a:\n" + repeat("-\n"),
	}
}

// walk reads every key as a text.
func walk(_ *yamlfile.File, top yamlfile.Map) {
	top.Known("a", "b")
	top.Get("a").Text(100)
	items, _ := top.Get("b").List(10, "a list")
	for _, item := range items {
		item.Text(100)
	}
}

// deeper returns maps within maps.
func deeper(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	return b.String()
}

// steps returns lists within lists that are never closed.
func steps(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i) + "-\n")
	}
	return b.String()
}
