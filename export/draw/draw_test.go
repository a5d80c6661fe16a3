package draw_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/ledongthuc/pdf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/worktest"
	"wallshoal/wall/plane"
)

var day = time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)

var page = plane.Rect{Max: plane.Point{X: 210, Y: 297}}

// picture draws one of everything.
func picture(c draw.Canvas) {
	thin := draw.Stroke{Width: draw.Width018}
	c.Page(210, 297)
	c.Group("all of it")
	c.Line(plane.Point{X: 10, Y: 20}, plane.Point{X: 110, Y: 20}, thin)
	c.Line(plane.Point{X: 33.333, Y: 44.444}, plane.Point{X: 33.333, Y: 145.044}, draw.Stroke{Width: draw.Width035, Dash: draw.DashDot})
	c.Polyline([]plane.Point{{X: 1, Y: 2}, {X: 3.25, Y: 4.5}, {X: 5, Y: 1.125}}, thin)
	c.Polygon([]plane.Ring{
		plane.Rectangle(plane.Point{X: 60, Y: 60}, 40, 30),
		plane.Rectangle(plane.Point{X: 70, Y: 70}, 10, 10),
	}, draw.Paint{Fill: draw.Solid(draw.Grey(200)), Stroke: thin})
	c.Clip(plane.Rectangle(plane.Point{X: 100, Y: 200}, 50, 50))
	c.Circle(plane.Point{X: 125, Y: 225}, 12.5, draw.Paint{Stroke: thin})
	c.Unclip()
	draw.Hatch(c, []plane.Ring{plane.Rectangle(plane.Point{X: 20, Y: 200}, 30, 30)}, page, 2.5, math.Pi/4, thin)
	c.Text(draw.Text{At: plane.Point{X: 100, Y: 150}, Say: "Hering & Σαρδέλα <б>", Height: 5, Align: draw.Centre})
	c.Text(draw.Text{At: plane.Point{X: 100, Y: 170}, Say: "turned", Height: 3.5, Bold: true, Turn: math.Pi / 2})
	c.End()
}

func asSVG(t *testing.T, picture func(draw.Canvas)) (string, []string) {
	t.Helper()
	var out bytes.Buffer
	s := draw.NewSVG(&out, draw.About{Title: `A "wall" <& more>`, Subject: "--> \x00"})
	picture(s)
	require.NoError(t, s.Close())
	return out.String(), s.Warnings()
}

func asPDF(t *testing.T, picture func(draw.Canvas)) ([]byte, []string) {
	t.Helper()
	p := draw.NewPDF(draw.About{Title: "A wall", Author: "(Us) \\"}, day)
	picture(p)
	var out bytes.Buffer
	_, err := p.WriteTo(&out)
	require.NoError(t, err)
	return out.Bytes(), p.Warnings()
}

// segments reads the straight lines of the first page of a PDF document as another program sees
// them, in mm from the top-left corner.
func segments(t *testing.T, doc []byte) [][2]plane.Point {
	t.Helper()
	r, err := pdf.NewReader(bytes.NewReader(doc), int64(len(doc)))
	require.NoError(t, err)
	page := r.Page(1)
	top := page.V.Key("MediaBox")
	if top.IsNull() {
		top = page.V.Key("Parent").Key("MediaBox")
	}
	height := top.Index(3).Float64()
	var out [][2]plane.Point
	var last plane.Point
	pdf.Interpret(page.V.Key("Contents"), func(stk *pdf.Stack, op string) {
		n := stk.Len()
		args := make([]pdf.Value, n)
		for i := n - 1; i >= 0; i-- {
			args[i] = stk.Pop()
		}
		if op != "m" && op != "l" {
			return
		}
		at := plane.Point{X: args[0].Float64() * 25.4 / 72, Y: (height - args[1].Float64()) * 25.4 / 72}
		if op == "l" {
			out = append(out, [2]plane.Point{last, at})
		}
		last = at
	})
	return out
}

func TestBackendsPutTheSameLinesInTheSamePlaces(t *testing.T) {
	record := draw.NewRecord()
	picture(record)
	require.NoError(t, record.Close())
	doc, _ := asPDF(t, picture)
	drawn := segments(t, doc)
	page, _ := asSVG(t, picture)

	lines := 0
	for _, m := range record.Marks {
		if m.Kind != "line" {
			continue
		}
		lines++
		a, b := m.Points[0], m.Points[1]
		assert.Condition(t, func() bool {
			for _, s := range drawn {
				if s[0].Distance(a) < 0.005 && s[1].Distance(b) < 0.005 {
					return true
				}
			}
			return false
		}, "no PDF line from %v to %v", a, b)
		assert.Contains(t, page, fmt.Sprintf(`<line x1="%.3f" y1="%.3f" x2="%.3f" y2="%.3f"`, a.X, a.Y, b.X, b.Y))
	}
	assert.Greater(t, lines, 10, "the hatch is made of lines")
	assert.Contains(t, page, `cx="125.000" cy="225.000" r="12.500"`)
	assert.Contains(t, page, `M60.000,60.000L100.000,60.000L100.000,90.000L60.000,90.000Z`)
}

func TestTheSamePictureIsTheSameBytes(t *testing.T) {
	one, _ := asPDF(t, picture)
	two, _ := asPDF(t, picture)
	assert.True(t, bytes.Equal(one, two))
	first, _ := asSVG(t, picture)
	second, _ := asSVG(t, picture)
	assert.Equal(t, first, second)
}

func TestUndatedPDFCarriesNoDate(t *testing.T) {
	p := draw.NewPDF(draw.About{}, time.Time{})
	picture(p)
	var out bytes.Buffer
	_, err := p.WriteTo(&out)
	require.NoError(t, err)
	assert.NotContains(t, out.String(), "Date")
	worktest.Judge(t, "undated.pdf", out.Bytes(), "qpdf", "--check", "FILE")
}

// A4 is 595.2756 x 841.8898 points: 210 x 297 mm (ISO 216) times 72/25.4.
func TestPageSizesInPoints(t *testing.T) {
	doc, _ := asPDF(t, func(c draw.Canvas) {
		c.Page(210, 297)
		c.Page(431.8, 279.4)
		c.Page(215.9, 279.4)
	})
	out := worktest.Judge(t, "sizes.pdf", doc, "pdfinfo", "-f", "1", "-l", "3", "-box", "FILE")
	var boxes [][2]float64
	for _, m := range regexp.MustCompile(`MediaBox:\s+0\.00\s+0\.00\s+([\d.]+)\s+([\d.]+)`).FindAllStringSubmatch(out, -1) {
		w, _ := strconv.ParseFloat(m[1], 64)
		h, _ := strconv.ParseFloat(m[2], 64)
		boxes = append(boxes, [2]float64{w, h})
	}
	want := [][2]float64{{595.2756, 841.8898}, {1224, 792}, {612, 792}}
	require.Len(t, boxes, len(want))
	for i := range want {
		assert.InDelta(t, want[i][0], boxes[i][0], 0.006)
		assert.InDelta(t, want[i][1], boxes[i][1], 0.006)
	}
}

func TestPDFStandsBeforeOutsideJudges(t *testing.T) {
	doc, warnings := asPDF(t, picture)
	assert.Empty(t, warnings)
	assert.Contains(t, worktest.Judge(t, "p.pdf", doc, "qpdf", "--check", "FILE"), "No syntax or stream encoding errors")

	fonts := strings.Split(strings.TrimSpace(worktest.Judge(t, "p.pdf", doc, "pdffonts", "FILE")), "\n")[2:]
	require.NotEmpty(t, fonts)
	for _, f := range fonts {
		fields := strings.Fields(f)
		assert.Equal(t, "yes", fields[len(fields)-5], "embedded: %s", f)
	}
	assert.Contains(t, worktest.Judge(t, "p.pdf", doc, "pdftotext", "FILE", "-"), "Hering & Σαρδέλα <б>")
	assert.Contains(t, worktest.Judge(t, "p.pdf", doc, "qpdf", "--json", "FILE"), `"/PrintScaling": "/None"`)
	assert.NotContains(t, worktest.Judge(t, "p.pdf", doc, "mutool", "draw", "-F", "trace", "FILE"), "error")
}

func TestSVGStandsBeforeOutsideJudges(t *testing.T) {
	page, warnings := asSVG(t, picture)
	assert.Empty(t, warnings)
	worktest.Judge(t, "p.svg", []byte(page), "xmllint", "--noout", "FILE")
	assert.Contains(t, page, `width="210.000mm" height="297.000mm"`)
	assert.Contains(t, page, `viewBox="0 0 210.000 297.000"`)
	assert.Contains(t, page, `text-anchor="middle"`, "the line is centred even where textLength is not heeded")
	assert.Contains(t, page, `Hering &amp; Σαρδέλα &lt;б&gt;`)
}

// The width that text is measured at must be the width that other programs give it.
func TestTextIsAsWideAsMeasured(t *testing.T) {
	for _, heavy := range []bool{false, true} {
		text := draw.Text{At: plane.Point{X: 20, Y: 100}, Say: "Herring_Σαρδέλα_Сельдь_0123456789", Height: 5, Bold: heavy}
		doc, _ := asPDF(t, func(c draw.Canvas) {
			c.Page(297, 210)
			c.Text(text)
		})
		m := regexp.MustCompile(`xMin="([\d.]+)".*xMax="([\d.]+)" yMax="[\d.]+">`).
			FindStringSubmatch(worktest.Judge(t, "w.pdf", doc, "pdftotext", "-bbox", "FILE", "-"))
		require.NotNil(t, m)
		from, _ := strconv.ParseFloat(m[1], 64)
		to, _ := strconv.ParseFloat(m[2], 64)
		assert.InDelta(t, 20, from*25.4/72, 0.01)
		assert.InDelta(t, text.Width(), (to-from)*25.4/72, text.Width()*0.001)
	}
}

func TestTurnedTextReadsUpwards(t *testing.T) {
	text := draw.Text{At: plane.Point{X: 50, Y: 60}, Say: "upwards", Height: 5, Turn: math.Pi / 2}
	box := text.Box(0).Bounds()
	assert.InDelta(t, 60, box.Max.Y, 1e-9)
	assert.InDelta(t, 60-text.Width(), box.Min.Y, 1e-9)
	assert.InDelta(t, 45, box.Min.X, 1e-9)
	assert.InDelta(t, 50, box.Max.X, 1e-9)
	page, _ := asSVG(t, func(c draw.Canvas) {
		c.Page(100, 100)
		c.Text(text)
	})
	assert.Contains(t, page, `transform="rotate(-90.0000 50.000 60.000)"`)
}

func TestAlignedTextStandsAtItsPoint(t *testing.T) {
	at := plane.Point{X: 50, Y: 60}
	for align, left := range map[draw.Align]float64{draw.Left: 0, draw.Centre: 0.5, draw.Right: 1} {
		text := draw.Text{At: at, Say: "place", Height: 3.5, Align: align}
		box := text.Box(0).Bounds()
		assert.InDelta(t, 50-left*text.Width(), box.Min.X, 1e-9)
		assert.InDelta(t, 60, box.Max.Y, 1e-9)
		assert.InDelta(t, 56.5, box.Min.Y, 1e-9)
	}
}

// Lettering heights are those of capitals (ISO 3098), so an H must be as tall as was asked.
func TestCapitalsAreAsTallAsAsked(t *testing.T) {
	doc, _ := asPDF(t, func(c draw.Canvas) {
		c.Page(50, 50)
		c.Text(draw.Text{At: plane.Point{X: 10, Y: 40}, Say: "H", Height: 20})
	})
	trace := worktest.Judge(t, "h.pdf", doc, "mutool", "draw", "-F", "stext", "FILE")
	m := regexp.MustCompile(`size="([\d.]+)"`).FindStringSubmatch(trace)
	require.NotNil(t, m)
	size, _ := strconv.ParseFloat(m[1], 64)
	// The Go fonts' capitals are 1480 of 2048 units tall (their OS/2 table).
	assert.InDelta(t, 20, size*25.4/72*1480/2048, 0.01)
}

func TestCleanKeepsWhatPrintsAndBoxesWhatDoesNot(t *testing.T) {
	for in, want := range map[string]string{
		"Σαρδέλα":                  "Σαρδέλα",
		"Сельдь":                   "Сельдь",
		"e\u0301cume":              "écume",
		"鰊 wall":                   "□ wall",
		"🐟":                        "□",
		"fish\U0001F41F":           "fish□",
		"❤️":                       "□",
		"\u202egnirreh\u202c":      "gnirreh",
		"a\u200bb\u00adc\ufeff":    "abc",
		"tab\tline\nend\u2009thin": "tab line end thin",
		"1\u00a0200\u202f5\u20075": "1\u00a0200\u00a05\u00a05",
		"bell\a\x00\x1b[31m":       "bell[31m",
		"bad \xff\xfe byte":        "bad □ byte",
		"שלום":                     "□□□□",
		"\ue000":                   "□",
		"":                         "",
	} {
		got, lost := draw.Clean(in)
		assert.Equal(t, want, got, "%q", in)
		assert.Equal(t, strings.Count(want, "□"), len(lost), "%q", in)
	}
}

func TestNoStringBreaksADocument(t *testing.T) {
	nasty := []string{
		"\xff\xfe", "鰊", "🐟", "\u202eabc", "a\x00b", "]]>", "\"><script>", "-->", "&amp;", "(\\)",
		"\ufffe", "\U0010ffff", "{nb}", strings.Repeat("long ", 500), "\u0301", "ﬁ", "   ", "",
	}
	all := func(c draw.Canvas) {
		c.Page(210, 297)
		for i, s := range nasty {
			c.Group(s)
			c.Text(draw.Text{At: plane.Point{X: 10, Y: float64(10 + 10*i)}, Say: s, Height: 3.5})
			c.End()
		}
	}
	doc, warned := asPDF(t, all)
	worktest.Judge(t, "n.pdf", doc, "qpdf", "--check", "FILE")
	page, same := asSVG(t, all)
	worktest.Judge(t, "n.svg", []byte(page), "xmllint", "--noout", "FILE")
	assert.NotContains(t, page, "<script>")
	assert.Equal(t, warned[0], `part of "\xff\xfe" is not readable text and prints as □`)
	assert.Equal(t, warned[1], `the character '鰊' (U+9C0A) in "鰊" is not in the font and prints as □`)
	assert.Equal(t, warned, same)
	for _, title := range nasty {
		p := draw.NewPDF(draw.About{Title: title, Author: title, Subject: title}, day)
		p.Page(100, 100)
		var out bytes.Buffer
		_, err := p.WriteTo(&out)
		require.NoError(t, err, "%q", title)
		worktest.Judge(t, "t.pdf", out.Bytes(), "qpdf", "--check", "FILE")
	}
}

func TestAMissingCharacterShowsAsABox(t *testing.T) {
	doc, warnings := asPDF(t, func(c draw.Canvas) {
		c.Page(100, 100)
		c.Text(draw.Text{At: plane.Point{X: 10, Y: 50}, Say: "鰊鰊", Height: 10})
	})
	assert.Len(t, warnings, 1, "one warning a character")
	assert.Contains(t, worktest.Judge(t, "b.pdf", doc, "pdftotext", "FILE", "-"), "□□")
}

func TestFitNeverLeavesItsWidth(t *testing.T) {
	for _, say := range []string{"x", "Herring", "A rather long name for one kind of herring", "Πολύ μακρύ όνομα τοίχου", strings.Repeat("W", 300)} {
		for width := 0.0; width < 80; width += 3.7 {
			text := draw.Text{Say: say, Height: 5}.Fit(width, 1.8)
			assert.LessOrEqual(t, text.Width(), width, "%q in %g", say, width)
			assert.GreaterOrEqual(t, text.Height, 1.8)
			if text.Say != say && text.Say != "" {
				assert.True(t, strings.HasSuffix(text.Say, "…"))
				assert.InDelta(t, 1.8, text.Height, 1e-9, "letters shrink before words are cut")
			}
		}
	}
	short := draw.Text{Say: "short", Height: 3.5}
	assert.Equal(t, short, short.Fit(100, 1.8))
}

func TestWrapEndsWhereNothingFits(t *testing.T) {
	for _, width := range []float64{0, -1} {
		assert.Equal(t, []string{"n", "o", "h", "o", "l", "e", "s"}, draw.Text{Say: "no holes", Height: 2.5}.Wrap(width))
	}
}

// A number in groups of three, and whatever else is held together, stays on one line where it fits.
func TestWrapHoldsNumbersTogether(t *testing.T) {
	text := draw.Text{Say: "the total is 1\u00a0234\u00a0567 in all", Height: 2.5}
	for width := 20.0; width < 60; width += 0.5 {
		assert.Contains(t, strings.Join(text.Wrap(width), "\n"), "1\u00a0234\u00a0567")
	}
	assert.Equal(t, []string{"a\u00a0b", "c"}, draw.Words(" a\u00a0b\tc\n"))
}

func TestWrapKeepsEveryWordWithinTheWidth(t *testing.T) {
	text := draw.Text{Say: "Print at 100 %, never to fit the page; Donaudampfschifffahrtselektrizitätenhauptbetriebswerk", Height: 2.5}
	lines := text.Wrap(30)
	for _, l := range lines {
		assert.LessOrEqual(t, draw.Text{Say: l, Height: 2.5}.Width(), 30.0)
	}
	assert.Equal(t, strings.ReplaceAll(text.Say, " ", ""), strings.ReplaceAll(strings.Join(lines, ""), " ", ""))
	assert.Empty(t, draw.Text{Say: "  ", Height: 2.5}.Wrap(30))
}

func TestHatchLinesStandAPitchApartInsideTheArea(t *testing.T) {
	record := draw.NewRecord()
	record.Page(100, 100)
	area := plane.Rectangle(plane.Point{X: 10, Y: 10}, 40, 20)
	draw.Hatch(record, []plane.Ring{area}, page, 4, 0, draw.Stroke{Width: draw.Width018})
	require.NoError(t, record.Close())
	var heights []float64
	for _, m := range record.Marks {
		if m.Kind == "line" && m.Points[0].Y > 10 && m.Points[0].Y < 30 {
			heights = append(heights, m.Points[0].Y)
			assert.LessOrEqual(t, m.Points[0].X, 10.0)
			assert.GreaterOrEqual(t, m.Points[1].X, 50.0)
		}
	}
	assert.Len(t, heights, 5, "12, 16, 20, 24 and 28")
}

func TestFaultsAreToldAtTheEnd(t *testing.T) {
	at := plane.Point{X: 1, Y: 1}
	line := draw.Stroke{Width: draw.Width018}
	faults := map[string]func(draw.Canvas){
		"before the first page": func(c draw.Canvas) { c.Line(at, at, line) },
		"without a page":        func(draw.Canvas) {},
		"not a number":          func(c draw.Canvas) { c.Page(10, 10); c.Line(at, plane.Point{X: math.NaN()}, line) },
		"place that is not": func(c draw.Canvas) {
			c.Page(10, 10)
			c.Text(draw.Text{At: plane.Point{X: math.Inf(1)}, Say: "x", Height: 2})
		},
		"a group is open":              func(c draw.Canvas) { c.Page(10, 10); c.Group("g") },
		"a clip ends":                  func(c draw.Canvas) { c.Page(10, 10); c.Group("g"); c.Unclip() },
		"cannot be drawn":              func(c draw.Canvas) { c.Page(0, 10) },
		"page of NaN":                  func(c draw.Canvas) { c.Page(math.NaN(), 10) },
		"a group ends that did not":    func(c draw.Canvas) { c.Page(10, 10); c.End() },
		"ends while a clip is open":    func(c draw.Canvas) { c.Page(10, 10); c.Clip() },
		"mark at a place that is not ": func(c draw.Canvas) { c.Page(10, 10); c.Circle(at, math.NaN(), draw.Paint{}) },
	}
	for want, picture := range faults {
		var out bytes.Buffer
		p := draw.NewPDF(draw.About{}, day)
		picture(p)
		_, err := p.WriteTo(&out)
		assert.ErrorContains(t, err, want)
		assert.Zero(t, out.Len())

		s := draw.NewSVG(&out, draw.About{})
		picture(s)
		assert.ErrorContains(t, s.Close(), want)

		r := draw.NewRecord()
		picture(r)
		assert.ErrorContains(t, r.Close(), want)
	}
}

func TestAPageCannotStartInsideAGroup(t *testing.T) {
	p := draw.NewPDF(draw.About{}, day)
	p.Page(100, 100)
	p.Clip()
	p.Page(100, 100)
	_, err := p.WriteTo(&bytes.Buffer{})
	assert.ErrorContains(t, err, "a page starts while a clip is open")
}

func TestAnSVGDocumentHasOnePage(t *testing.T) {
	s := draw.NewSVG(&bytes.Buffer{}, draw.About{})
	s.Page(100, 100)
	s.Page(100, 100)
	assert.ErrorContains(t, s.Close(), "one page only")
}

// Every page is a document that stands alone, and says what the same page says in one of its own.
func TestSVGPages(t *testing.T) {
	s := draw.NewSVGPages(draw.About{Title: "A wall", Subject: "for the client"})
	picture(s)
	s.Page(100, 50)
	s.Text(draw.Text{At: plane.Point{X: 10, Y: 10}, Say: "second 🐟", Height: 5})
	pages, err := s.Documents()
	require.NoError(t, err)
	require.Len(t, pages, 2)
	for i, p := range pages {
		worktest.Judge(t, fmt.Sprintf("%d.svg", i+1), p, "xmllint", "--noout", "FILE")
		assert.Contains(t, string(p), fmt.Sprintf("for the client: page %d", i+1))
	}
	assert.Contains(t, string(pages[0]), "turned")
	assert.NotContains(t, string(pages[0]), "second")
	assert.Contains(t, string(pages[1]), `width="100.000mm"`)
	require.Len(t, s.Warnings(), 1)
	assert.Contains(t, s.Warnings()[0], "🐟")

	for want, spoil := range map[string]func(*draw.SVGPages){
		"a document without a page":    func(*draw.SVGPages) {},
		"a mark before the first page": func(s *draw.SVGPages) { s.Circle(plane.Point{}, 1, draw.Paint{}) },
		"page 1: drawing SVG: the document ends while a clip is open": func(s *draw.SVGPages) {
			s.Page(100, 100)
			s.Clip()
			s.Page(100, 100)
		},
	} {
		s := draw.NewSVGPages(draw.About{})
		spoil(s)
		_, err := s.Documents()
		assert.ErrorContains(t, err, want)
	}
}

// 14,400 units are 5080 mm (Adobe PDF Reference 1.7, Appendix C).
func TestPDFRefusesAPageTooLong(t *testing.T) {
	p := draw.NewPDF(draw.About{}, day)
	p.Page(5080, 100)
	_, err := p.WriteTo(&bytes.Buffer{})
	require.NoError(t, err)
	p = draw.NewPDF(draw.About{}, day)
	p.Page(100, 5080.1)
	_, err = p.WriteTo(&bytes.Buffer{})
	assert.ErrorContains(t, err, "longer than a PDF page may be")
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriteErrorsAreTold(t *testing.T) {
	s := draw.NewSVG(full{}, draw.About{})
	picture(s)
	assert.ErrorContains(t, s.Close(), "disk full")
	p := draw.NewPDF(draw.About{}, day)
	picture(p)
	_, err := p.WriteTo(full{})
	assert.ErrorContains(t, err, "disk full")
}

// A clip restores the page to what it was before: what is set inside must not hang over.
func TestStyleAfterAClipIsItsOwn(t *testing.T) {
	doc, _ := asPDF(t, func(c draw.Canvas) {
		area := plane.Rectangle(plane.Point{X: 10, Y: 10}, 30, 30)
		red := draw.Colour{R: 255}
		c.Page(50, 50)
		c.Clip(area)
		c.Polygon([]plane.Ring{area}, draw.Paint{Fill: draw.Solid(red)})
		c.Text(draw.Text{At: plane.Point{X: 12, Y: 20}, Say: "in", Height: 5, Bold: true})
		c.Unclip()
		c.Polygon([]plane.Ring{plane.Rectangle(plane.Point{X: 42, Y: 42}, 4, 4)}, draw.Paint{Fill: draw.Solid(red)})
		c.Text(draw.Text{At: plane.Point{X: 12, Y: 48}, Say: "out", Height: 5, Bold: true})
	})
	trace := worktest.Judge(t, "c.pdf", doc, "mutool", "draw", "-F", "trace", "FILE")
	assert.Equal(t, 2, strings.Count(trace, `color="1 0 0"`), "both squares are red")
	assert.Equal(t, 2, strings.Count(trace, `font="utf8goB"`), "both words are bold")
}

func TestDashesAreMultiplesOfTheWidth(t *testing.T) {
	assert.Nil(t, draw.Continuous.Pattern(0.25))
	assert.Equal(t, []float64{6, 1.5}, draw.Dashed.Pattern(0.5))
	assert.Equal(t, []float64{12, 1.5, 0.25, 1.5}, draw.DashDot.Pattern(0.5))
}

func FuzzClean(f *testing.F) {
	for _, s := range []string{"", "Herring", "\xff", "e\u0301", "🐟", "\u202e", "\x00\t", "Σ"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		clean, _ := draw.Clean(s)
		again, lost := draw.Clean(clean)
		assert.Equal(t, clean, again, "cleaning twice changes nothing")
		assert.Empty(t, lost)
	})
}
