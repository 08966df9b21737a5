package web

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// browser starts a browser of its own, or skips the test where there is none; on
// the way to the main line a missing browser is a failure.
func browser(t *testing.T) context.Context {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		missing(t, "no browser: "+err.Error())
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.UserDataDir(t.TempDir()), chromedp.WindowSize(1280, 1000))
	ctx, cancel := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	return ctx
}

// missing skips a test, or fails it where everything must be there.
func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") != "" {
		t.Fatal(what)
	}
	t.Skip(what)
}

// tab is a page in a browser.
type tab struct {
	*testing.T
	ctx  context.Context
	site *site
	logs chan string // what the browser complains about
}

// patience is how long something on a page may take on a busy machine.
const patience = 2 * time.Minute

func newTab(t *testing.T, ctx context.Context, s *site) *tab {
	t.Helper()
	b := &tab{T: t, ctx: ctx, site: s, logs: make(chan string, 1000)}
	err := chromedp.Listen(ctx, func(ev any) {
		if e, ok := ev.(*log.EventEntryAdded); ok {
			select {
			case b.logs <- e.Entry.Text:
			default:
			}
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// act does something on a page and gives what came of it.
func act[T any](b *tab, a chromedp.Action[T]) T {
	b.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	v, err := chromedp.Run(ctx, a)
	if err != nil {
		b.Fatal(err)
	}
	return v
}

func (b *tab) open(path string) { b.Helper(); act(b, chromedp.Navigate(b.site.http.URL+path)) }

// is asks a question of the page.
func (b *tab) is(script string) bool { b.Helper(); return act(b, chromedp.Evaluate[bool](script)) }

// until waits until a question is answered with yes.
func (b *tab) until(script string) {
	b.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		if b.is(script) {
			return
		}
	}
	b.Fatalf("never came: %s\n%s", script, act(b, chromedp.Text("main")))
}

// says waits until the page shows words.
func (b *tab) says(words string) {
	b.Helper()
	b.until(fmt.Sprintf(`!!document.body && document.body.innerText.includes(%q)`, words))
}

// focus looks for the element that has the focus.
func (b *tab) focus(selector string) bool {
	b.Helper()
	return b.is(fmt.Sprintf(`document.activeElement.matches(%q)`, selector))
}

// press presses keys one after the other.
func (b *tab) press(keys ...string) {
	b.Helper()
	for _, k := range keys {
		act(b, chromedp.KeyEvent(k))
	}
}

// tabTo presses the tab key until an element has the focus.
func (b *tab) tabTo(selector string) {
	b.Helper()
	for range 400 {
		if b.focus(selector) {
			return
		}
		b.press(kb.Tab)
	}
	b.Fatalf("the keyboard does not reach %s", selector)
}

// field puts words into a field in the place of what it holds.
func (b *tab) field(selector, words string) {
	b.Helper()
	act(b, chromedp.WaitVisible(selector))
	b.is(fmt.Sprintf(`(e => { e.focus(); e.select(); return true })(document.querySelector(%q))`, selector))
	act(b, chromedp.SendKeys(selector, words))
}

// quiet wants no complaint of the browser, such as of a broken policy.
func (b *tab) quiet() {
	b.Helper()
	for {
		select {
		case line := <-b.logs:
			if !strings.Contains(line, "409") && !strings.Contains(line, "422") { // answers of forms, shown as pages
				b.Errorf("the browser says: %s", line)
			}
		default:
			return
		}
	}
}

// TestBrowserStory begins a house from a starter, changes it, takes a swap and
// takes it back, stops a leak, and saves the spec sheet.
func TestBrowserStory(t *testing.T) {
	s := newSite(t)
	b := newTab(t, browser(t), s)
	b.open("/")
	b.field(`input[name=house]`, "Willow Bend")
	b.field(`input[name=place]`, "des mo")
	act(b, chromedp.WaitVisible(`.suggest li`))
	b.press(kb.ArrowDown)
	act(b, chromedp.Click(`.suggest li[aria-selected=true]`))
	b.until(`document.querySelector("input[name=place]").value === "Des Moines, IA"`)
	act(b, chromedp.Click(`input[value=wall-1981-2000]`))
	act(b, chromedp.Click(`.tall > button`))
	b.says("Its walls, roofs and floors")
	act(b, chromedp.Click(`.card h3 a`))
	b.says("From the outdoors to the room")

	const page = "/house/willow-bend.yaml"
	act(b, chromedp.Click(`#layer-4 details.change > summary`))
	b.field(`#layer-4 input[name=thickness]`, "1/2")
	act(b, chromedp.Click(`#layer-4 form.tall > button`))
	b.says("Take back: change of the sheathing")
	if !b.is(`document.querySelector("#layer-4 details.change").open`) {
		t.Error("what was open is closed after an edit")
	}
	edited := s.file("willow-bend.yaml")
	if !strings.Contains(edited, "thickness: 1/2 in") {
		t.Error("the edit is not in the file")
	}
	act(b, chromedp.Reload())
	b.says("Take back: change of the sheathing")

	b.open(page + "/wall/swap")
	act(b, chromedp.Click(`#swap-1 form button`))
	b.says("Why it is dropped")
	if s.file("willow-bend.yaml") == edited {
		t.Error("the swap is not in the file")
	}
	b.field(`input[name=why]`, "too dear")
	b.press(kb.Enter)
	b.says("Do again:")
	if s.file("willow-bend.yaml") != edited {
		t.Error("undo does not give the text back")
	}
	b.open(page + "/tried")
	b.says("too dear")

	b.open(page + "/wall/leak")
	act(b, chromedp.Click(`main form.tall > button`))
	b.until(`!!document.querySelector("[data-run] button")`)
	act(b, chromedp.Click(`[data-run] button`))
	b.says("It was stopped")

	b.open(page + "/wall/spec")
	at := act(b, chromedp.Evaluate[string](`document.querySelector('a[href*="sheet.html"]').getAttribute("href")`))
	if sheet := s.get(at, 200); !strings.Contains(sheet, "Willow Bend") {
		t.Error("the sheet is not that of the wall")
	}
	b.quiet()
}

// TestBrowserLeak follows a leak to its end: the progress moves and the result
// comes by itself.
func TestBrowserLeak(t *testing.T) {
	s := newSite(t)
	b := newTab(t, browser(t), s)
	b.open(northWall + "leak")
	act(b, chromedp.Click(`input[name=when][value="01-15"]`))
	act(b, chromedp.Click(`main form.tall > button`))
	b.until(`location.pathname.startsWith("/job/")`)
	b.says("How long it takes")
	b.quiet()
}

// TestBrowserTabs edits one house in two tabs: the second is told, nothing is
// lost, and both edits are in the house at the end.
func TestBrowserTabs(t *testing.T) {
	s := newSite(t)
	ctx := browser(t)
	one := newTab(t, ctx, s)
	one.open(northWall)
	second, cancel := chromedp.NewContext(ctx)
	defer cancel()
	two := newTab(t, second, s)
	two.open(northWall)
	for _, b := range []*tab{one, two} {
		act(b, chromedp.Click(`#layer-4 details.change > summary`))
	}
	one.field(`#layer-4 input[name=thickness]`, "5/8 in")
	one.press(kb.Enter)
	one.says("Take back")
	two.field(`#layer-4 input[name=name]`, "panel")
	two.press(kb.Enter)
	two.says("The house was changed meanwhile")
	act(two, chromedp.Click(`main form.tall > button`))
	two.says("Take back")
	for _, want := range []string{"thickness: 5/8 in", "name: panel"} {
		if !strings.Contains(s.file(court), want) {
			t.Errorf("%q is lost", want)
		}
	}
	one.quiet()
	two.quiet()
}

// TestBrowserBack goes from the swap that was taken back to the pages before:
// they show the house as it is.
func TestBrowserBack(t *testing.T) {
	s := newSite(t)
	b := newTab(t, browser(t), s)
	b.open(northWall)
	act(b, chromedp.Click(`#layer-6 a[href*="swap?layer"]`))
	b.says("instead of the poly")
	act(b, chromedp.Click(`#swap-1 form button`))
	b.says("Why it is dropped")
	act(b, chromedp.NavigateBack())
	b.says("What could be there instead?")
	act(b, chromedp.NavigateBack())
	b.says("Take back:")
	b.quiet()
}

// TestBrowserKeyboard changes a layer with nothing but the keyboard.
func TestBrowserKeyboard(t *testing.T) {
	s := newSite(t)
	b := newTab(t, browser(t), s)
	b.open(northWall)
	b.press(kb.Tab)
	if !b.focus("a.skip") {
		t.Error("the first stop is not the way past the head of the page")
	}
	b.press(kb.Enter)
	b.tabTo(`#layer-7 details.change > summary`)
	b.press(kb.Enter)
	b.tabTo(`#layer-7 input[name=material]`)
	b.is(`document.activeElement.select(), true`)
	act(b, chromedp.SendKeys(`#layer-7 input[name=material]`, "plywood wall"))
	act(b, chromedp.WaitVisible(`#layer-7 .suggest li`))
	b.press(kb.ArrowDown)
	chosen := act(b, chromedp.Evaluate[string](`document.querySelector("#layer-7 .suggest [aria-selected=true]").dataset.value`))
	b.is(`document.activeElement.dispatchEvent(new KeyboardEvent("keydown", {key: "Enter", bubbles: true, cancelable: true})), true`)
	b.until(fmt.Sprintf(`document.activeElement.value === %q`, chosen))
	b.tabTo(`#layer-7 form.tall > button`)
	b.press(kb.Enter)
	b.says("Take back: change of the board")
	if b.focus("body") {
		t.Error("the focus is lost after an edit")
	}
	b.quiet()
}

// TestBrowserWithoutScript reads and edits with scripts switched off.
func TestBrowserWithoutScript(t *testing.T) {
	s := newSite(t)
	b := newTab(t, browser(t), s)
	act(b, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		return err
	}))
	b.open(northWall)
	act(b, chromedp.Click(`#layer-4 details.change > summary`))
	act(b, chromedp.SendKeys(`#layer-4 input[name=thickness]`, kb.End+strings.Repeat(kb.Backspace, 10)+"5/8"))
	act(b, chromedp.Click(`#layer-4 form.tall > button`))
	act(b, chromedp.WaitVisible(`.history button`))
	if !strings.Contains(s.file(court), "thickness: 5/8 in") {
		t.Error("the edit is not in the file")
	}
}

// everyPage lists one page of each sort.
func (s *site) everyPage() []string {
	run := s.runOf("when", "01-15")
	s.done(run)
	s.edit(court, 200, "do", "layer", "assembly", "north wall", "layer", "sheathing", "thickness", "1/2 in")
	return []string{
		"/", courtPage, northWall, northWall + "swap", northWall + "plans", northWall + "leak", run, northWall + "spec",
		courtPage + "/text", courtPage + "/tried", "/house/birch-corner.yaml/finishes", "/house/birch-corner.yaml", "/search?q=drywall", "/show/osb",
		"/show/gypsum-board?coats=usual", "/nothing",
	}
}

// TestBrowserPages looks at every page at both widths, light and dark, with all
// that is folded opened: nothing is wider than the screen, and the rules of
// accessibility (axe-core, its default rules) find nothing.
func TestBrowserPages(t *testing.T) {
	axe, err := os.ReadFile("../../../.ci/browser/node_modules/axe-core/axe.min.js")
	if err != nil {
		missing(t, "no rules of accessibility: "+err.Error())
	}
	s := newSite(t)
	pages := s.everyPage()
	b := newTab(t, browser(t), s)
	for _, width := range []int64{1280, 360} {
		act(b, chromedp.EmulateViewport(width, 900))
		for _, scheme := range []string{"light", "dark"} {
			act(b, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
				_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
					Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
				})
				return err
			}))
			for _, at := range pages {
				b.open(at)
				b.is(`document.querySelectorAll("details").forEach(d => { d.open = true }), true`)
				if wide := act(b, chromedp.Evaluate[int64](`document.documentElement.scrollWidth`)); wide > width {
					t.Errorf("%s at %d: %d wide", at, width, wide)
				}
				b.axe(string(axe), fmt.Sprintf("%s at %d, %s", at, width, scheme))
			}
		}
	}
	for range len(b.logs) {
		if line := <-b.logs; !strings.Contains(line, "404") {
			t.Errorf("the browser says: %s", line)
		}
	}
}

// axe runs the rules of accessibility on the page.
func (b *tab) axe(script, where string) {
	b.Helper()
	act(b, chromedp.Evaluate[bool](script+`;true`))
	b.is(`window.found = null, axe.run(document).then(r => { window.found = r.violations.map(v => v.id + ": " + v.nodes.slice(0, 3).map(n => n.html.slice(0, 160)).join(" | ")).join("\n") }), true`)
	b.until(`window.found !== null`)
	if found := act(b, chromedp.Evaluate[string](`window.found`)); found != "" {
		b.Errorf("%s: %s", where, found)
	}
}

// TestBrowserPictures takes pictures of every page into the folder that the
// variable RELATH_PICTURES names, to be looked at.
func TestBrowserPictures(t *testing.T) {
	folder := os.Getenv("RELATH_PICTURES")
	if folder == "" {
		t.Skip("RELATH_PICTURES names no folder")
	}
	s := newSite(t)
	b := newTab(t, browser(t), s)
	for _, at := range s.everyPage() {
		for _, width := range []int64{1280, 360} {
			act(b, chromedp.EmulateViewport(width, 1400))
			b.open(at)
			name := fmt.Sprintf("%s-%d.png", strings.Trim(strings.NewReplacer("/", "-", "?", "-", "=", "-", "%", "").Replace(url.PathEscape(at)), "-"), width)
			if err := os.WriteFile(filepath.Join(folder, name), act(b, chromedp.CaptureScreenshot()), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}
