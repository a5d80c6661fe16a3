package view

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/examples"
)

// At every width of a telephone, and on a desk of 1280 pixels at twice and at four times its size, the page scrolls one way
// only, and every figure of the strip can be read whole (WCAG 2.2, 1.4.10 Reflow: 320 CSS pixels).
func TestThePageFlowsAnew(t *testing.T) {
	rarely(t)
	p := open(t, examples.Ferry, "/")
	for _, size := range some([][2]int64{{390, 844}, {360, 640}, {320, 568}, {640, 360}, {320, 256}, {1280, 800}}) {
		p.run(chromedp.EmulateViewport(size[0], size[1]), chromedp.Reload())
		p.until(`document.querySelectorAll('#figures > div').length > 4 && !document.querySelector('#figures.stale') && ` + pictureThere)
		p.see(fmt.Sprintf("main-%dx%d", size[0], size[1]))
		assert.LessOrEqual(t, js[int64](p, `document.documentElement.scrollWidth`), size[0], size)
		lost := js[[]string](p, `(() => {
			const lost = [];
			for (const el of document.querySelectorAll('#figures dt, #figures dd, header button, header a, #title, #tool-pick, #tool-add, #whole, #sheet-toggle')) {
				if (!el.checkVisibility()) continue;
				el.scrollIntoView({ block: 'center' });
				const r = el.getBoundingClientRect();
				const inside = r.left >= 0 && r.right <= innerWidth + 0.5 && r.top >= -0.5 && r.bottom <= innerHeight + 0.5;
				if (!inside || el.scrollWidth > el.clientWidth + 1 && getComputedStyle(el).display !== 'inline') lost.push(el.id || el.textContent);
			}
			for (const box of document.querySelectorAll('#figures, .figures')) if (box.scrollWidth > box.clientWidth) lost.push('the strip');
			scrollTo(0, 0);
			return lost })()`)
		assert.Empty(t, lost, size)
		if size[0] < 700 {
			p.does(`document.getElementById('sheet-toggle').click()`)
			p.until(`document.body.classList.contains('sheet-open')`)
			assert.LessOrEqual(t, js[int64](p, `document.documentElement.scrollWidth`), size[0], size)
			assert.Zero(t, js[int](p, `[...document.querySelectorAll('#panel-inner')].filter((e) => e.scrollWidth > e.clientWidth).length`), "%v: the knobs scroll one way", size)
			if size[1] > 480 {
				assert.GreaterOrEqual(t, js[float64](p, `document.getElementById('sheet-toggle').getBoundingClientRect().top - Math.max(0, document.getElementById('stage').getBoundingClientRect().top)`),
					180.0, "%v: the picture is seen above the knobs", size)
			}
			p.see(fmt.Sprintf("main-knobs-%dx%d", size[0], size[1]))
		}
	}
	p.clean()
}

// luminance is the relative luminance of a colour, as WCAG 2.2 defines it.
func luminance(rgb [3]float64) float64 {
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		c := rgb[i] / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

// contrast is the contrast ratio of two colours, as WCAG 2.2 defines it: from 1 to 21.
func contrast(a, b [3]float64) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// colour reads #rgb and #rrggbb.
func colour(t *testing.T, text string) [3]float64 {
	t.Helper()
	digits := strings.TrimPrefix(text, "#")
	if len(digits) == 3 {
		digits = string([]byte{digits[0], digits[0], digits[1], digits[1], digits[2], digits[2]})
	}
	require.Len(t, digits, 6, text)
	n, err := strconv.ParseUint(digits, 16, 32)
	require.NoError(t, err)
	return [3]float64{float64(n >> 16), float64(n >> 8 & 255), float64(n & 255)}
}

var setting = regexp.MustCompile(`(--[a-z-]+):\s*(#[0-9a-f]{3,6})\b`)

// The colours of both pages: text on what it stands on at 4.5 to 1 at least (WCAG 2.2, 1.4.3, level AA), at the wall at 7 to 1
// (1.4.6, level AAA), since the sun takes some of it; and lines that tell what can be pressed at 3 to 1 (1.4.11).
func TestColoursContrast(t *testing.T) {
	assert.InDelta(t, 21, contrast(colour(t, "#000"), colour(t, "#ffffff")), 1e-9, "black on white")
	assert.InDelta(t, 1, contrast(colour(t, "#123456"), colour(t, "#123456")), 1e-9)
	for _, tt := range []struct {
		files []string
		text  float64
		line  float64
	}{{[]string{"base.css"}, 4.5, 3}, {[]string{"base.css", "install.css"}, 7, 4.5}} {
		set := map[string]string{"--white": "#fff"}
		for _, f := range tt.files {
			for _, m := range setting.FindAllStringSubmatch(string(pageFile(t, f)), -1) {
				set[m[1]] = m[2]
			}
		}
		for _, pair := range [][2]string{
			{"ink", "paper"}, {"ink", "sheet"}, {"quiet", "paper"}, {"quiet", "sheet"}, {"wrong", "paper"}, {"wrong", "sheet"}, {"wrong", "wrong-paper"},
			{"ink", "wrong-paper"}, {"ink", "mark-paper"}, {"quiet", "mark-paper"}, {"mark", "sheet"}, {"mark", "paper"}, {"white", "ink"}, {"white", "wrong"},
		} {
			assert.GreaterOrEqual(t, contrast(colour(t, set["--"+pair[0]]), colour(t, set["--"+pair[1]])), tt.text, "%v on %v in %v", pair[0], pair[1], tt.files)
		}
		for _, ground := range []string{"paper", "sheet"} {
			assert.GreaterOrEqual(t, contrast(colour(t, set["--rule"]), colour(t, set["--"+ground])), tt.line, "lines of buttons on %s in %v", ground, tt.files)
		}
	}
}

// seenText returns every colour that text has on the page, with what it stands on and an example; half transparent grounds are
// mixed. What cannot be pressed now is left out of what the standard asks for, and is in here all the same.
const seenText = `(() => {
	const rgb = (text) => { const [r, g, b, a = 1] = text.match(/[\d.]+/g).map(Number); return { r, g, b, a }; };
	const over = (top, under) => ({ r: top.r * top.a + under.r * (1 - top.a), g: top.g * top.a + under.g * (1 - top.a), b: top.b * top.a + under.b * (1 - top.a), a: 1 });
	const ground = (el) => {
		const layers = [];
		for (let e = el; e; e = e.parentElement) layers.push(rgb(getComputedStyle(e).backgroundColor));
		return layers.reverse().reduce((under, top) => over(top, under), { r: 255, g: 255, b: 255, a: 1 });
	};
	const seen = new Map();
	for (const el of document.querySelectorAll('body *')) {
		if (el.closest('svg, #board, .unseen, noscript, option') || !el.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
		if (![...el.childNodes].some((n) => n.nodeType === 3 && n.data.trim()) && !el.matches('input[type=text], input[type=number], select')) continue;
		const on = ground(el), ink = over(rgb(getComputedStyle(el).color), on);
		const key = [ink.r, ink.g, ink.b, on.r, on.g, on.b].map(Math.round).join(' ');
		if (!seen.has(key)) seen.set(key, (el.id || el.className || el.localName) + ': ' + (el.textContent || el.value).trim().slice(0, 30));
	}
	return [...seen].map(([key, what]) => key + '|' + what);
})()`

// What is seen of both pages in a browser contrasts: 4.5 to 1 (WCAG 2.2, 1.4.3), at the wall 7 to 1 (1.4.6) but for what cannot
// be pressed just now.
func TestWhatIsSeenContrasts(t *testing.T) {
	rarely(t)
	p := open(t, examples.HealthCentre, "/")
	look := func(least float64) {
		t.Helper()
		all := js[[]string](p, seenText)
		assert.Greater(t, len(all), 2)
		for _, one := range all {
			numbers, what, _ := strings.Cut(one, "|")
			var c [6]float64
			_, err := fmt.Sscan(numbers, &c[0], &c[1], &c[2], &c[3], &c[4], &c[5])
			require.NoError(t, err)
			ratio := contrast([3]float64(c[:3]), [3]float64(c[3:]))
			assert.GreaterOrEqual(t, ratio, least, what)
		}
	}
	p.until(`document.querySelectorAll('#figures > div').length > 4 && !document.querySelector('#figures.stale')`)
	p.does(`document.querySelectorAll('details').forEach((d) => { d.open = true })`)
	look(4.5)
	p.run(chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile), chromedp.Navigate(p.url+"/install"))
	p.until(`document.querySelectorAll('#pieces input').length > 0`)
	p.tick()
	p.does(`document.querySelectorAll('details').forEach((d) => { d.open = true })
		for (const id of ['keep', 'lost', 'other', 'forget', 'stay']) document.getElementById(id).hidden = false
		document.getElementById('lost-why').textContent = document.getElementById('other-what').textContent = 'why'`)
	p.until(`!document.getElementById('undo').disabled`)
	p.see("install-all")
	p.does(`document.querySelectorAll('button:disabled').forEach((b) => b.remove())`)
	look(7)
}
