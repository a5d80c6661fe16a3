package view

import (
	"bytes"
	"io/fs"
	"path"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

var (
	imported = regexp.MustCompile(`(?m)^(?:import|\} from|import .* from) '(\./[a-z.-]+)'|^import .* from '(\./[a-z.-]+)';`)
	wanted   = regexp.MustCompile(`\bthe\('([a-z-]+)'\)`)
)

// What the modules of a page import is there, what the page links to is too, and every element that a module asks
// for by its id is on a page that loads the module, once.
func TestPagesHaveWhatTheirModulesAskFor(t *testing.T) {
	for _, name := range []string{"index.html", "install.html"} {
		ids := map[string]int{}
		var begin []string
		doc, err := html.Parse(bytes.NewReader(pageFile(t, name)))
		require.NoError(t, err)
		for n := range doc.Descendants() {
			for _, a := range n.Attr {
				switch {
				case a.Key == "id":
					ids[a.Val]++
				case (a.Key == "src" || a.Key == "href") && path.Dir(a.Val) == "/page":
					pageFile(t, path.Base(a.Val))
					if n.Data == "script" {
						begin = append(begin, path.Base(a.Val))
					}
				case a.Key == "for" || a.Key == "aria-labelledby" || a.Key == "aria-controls":
					defer func() { assert.Equal(t, 1, ids[a.Val], "%s: %s of %s", name, a.Val, n.Data) }()
				}
			}
		}
		for id, times := range ids {
			assert.Equal(t, 1, times, "%s: %s", name, id)
		}
		loaded := map[string]bool{}
		for len(begin) > 0 {
			module := begin[0]
			begin = begin[1:]
			if loaded[module] {
				continue
			}
			loaded[module] = true
			text := pageFile(t, module)
			for _, m := range imported.FindAllSubmatch(text, -1) {
				begin = append(begin, path.Base(string(m[1])+string(m[2])))
			}
			for _, m := range wanted.FindAllSubmatch(text, -1) {
				assert.Equal(t, 1, ids[string(m[1])], "%s asks %s for %s", module, name, m[1])
			}
		}
		assert.Contains(t, loaded, "api.js", name)
	}
}

// Modules stay small enough to have one job.
func TestModulesAreShort(t *testing.T) {
	files, err := fs.Glob(pages, "page/*.js")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, f := range files {
		text, err := pages.ReadFile(f)
		require.NoError(t, err)
		assert.Less(t, bytes.Count(text, []byte("\n")), 300, f)
	}
}

func pageFile(t *testing.T, name string) []byte {
	text, err := pages.ReadFile("page/" + name)
	require.NoError(t, err)
	return text
}
