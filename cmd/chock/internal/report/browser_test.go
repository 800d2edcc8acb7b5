package report

import (
	"bufio"
	"bytes"
	"encoding/base64"
	"encoding/json"
	"flag"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/cmd/chock/internal/record"
)

// The report in a real browser. It is spoken to through the pipe that it was
// made for, so that no library has to be built for this alone.

var pictures = flag.String("pictures", "", "folder for pictures and PDFs of the report, to look at")

// A browser is one page of a headless Chromium.
type browser struct {
	t       *testing.T
	in      *os.File
	out     *bufio.Reader
	id      int
	session string
	events  []event
}

type event struct {
	Method string
	Params json.RawMessage
}

// openBrowser skips the test, and says so, where there is no Chromium.
func openBrowser(t *testing.T) *browser {
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "google-chrome-stable"} {
		if p, err := exec.LookPath(name); err == nil {
			path = p
			break
		}
	}
	if path == "" || runtime.GOOS == "windows" { // there a child gets no third pipe
		t.Skip("no chromium, chromium-browser or google-chrome: the HTML was not tried in a browser")
	}
	if testing.Short() {
		t.Skip("-short: the HTML was not tried in a browser")
	}
	theirs, in, err := os.Pipe()
	require.NoError(t, err)
	out, ours, err := os.Pipe()
	require.NoError(t, err)
	// Without a sandbox: it opens nothing but a file that this test wrote, and
	// a container has none.
	cmd := exec.Command(path, "--headless", "--remote-debugging-pipe", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
		"--disable-background-networking", "--user-data-dir="+t.TempDir())
	cmd.ExtraFiles = []*os.File{theirs, ours}
	require.NoError(t, cmd.Start())
	theirs.Close()
	ours.Close()
	late := time.AfterFunc(5*time.Minute, func() { cmd.Process.Kill() })
	b := &browser{t: t, in: in, out: bufio.NewReader(out)}
	t.Cleanup(func() {
		b.session = ""
		b.call("Browser.close", nil)
		late.Stop()
		in.Close()
		cmd.Wait() // it is done; how it ended says nothing of the page
		out.Close()
	})
	var made struct {
		TargetID  string
		SessionID string
	}
	b.into(&made, "Target.createTarget", map[string]any{"url": "about:blank"})
	b.into(&made, "Target.attachToTarget", map[string]any{"targetId": made.TargetID, "flatten": true})
	b.session = made.SessionID
	for _, d := range []string{"Page", "Runtime", "Log", "Network"} {
		b.call(d+".enable", nil)
	}
	return b
}

// call sends one command and gives its result; events on the way are kept.
func (b *browser) call(method string, params any) json.RawMessage {
	b.id++
	message := map[string]any{"id": b.id, "method": method}
	if params != nil {
		message["params"] = params
	}
	if b.session != "" {
		message["sessionId"] = b.session
	}
	data, err := json.Marshal(message)
	require.NoError(b.t, err)
	_, err = b.in.Write(append(data, 0))
	require.NoError(b.t, err)
	for {
		m := b.next()
		if m.ID == b.id {
			require.Empty(b.t, string(m.Error), method)
			return m.Result
		}
	}
}

func (b *browser) into(v any, method string, params any) {
	require.NoError(b.t, json.Unmarshal(b.call(method, params), v))
}

type message struct {
	ID            int
	Result, Error json.RawMessage
	event
}

func (b *browser) next() message {
	data, err := b.out.ReadBytes(0)
	require.NoError(b.t, err, "the browser went away, or took more than five minutes")
	var m message
	require.NoError(b.t, json.Unmarshal(data[:len(data)-1], &m))
	if m.Method != "" {
		b.events = append(b.events, m.event)
	}
	return m
}

// open loads a page and waits until it is there.
func (b *browser) open(address string) {
	b.events = nil
	b.call("Page.navigate", map[string]any{"url": address})
	for {
		for _, e := range b.events {
			if e.Method == "Page.loadEventFired" {
				return
			}
		}
		b.next()
	}
}

// run gives what a script says about the page.
func (b *browser) run(v any, script string) {
	var r struct {
		Result           struct{ Value json.RawMessage }
		ExceptionDetails json.RawMessage
	}
	b.into(&r, "Runtime.evaluate", map[string]any{"expression": script, "returnByValue": true})
	require.Empty(b.t, string(r.ExceptionDetails))
	require.NoError(b.t, json.Unmarshal(r.Result.Value, v))
}

// looks tells what of a page does not fit, does not read or is out of order.
const looks = `(() => {
  const out = [], wide = document.documentElement.clientWidth;
  const name = e => e.tagName + ' ' + (e.id || e.textContent.trim().slice(0, 40));
  if (document.documentElement.scrollWidth > wide) out.push('the page scrolls sideways: ' + document.documentElement.scrollWidth + ' > ' + wide);
  for (const e of document.querySelectorAll('body *')) {
    if (e.closest('svg') && e.tagName !== 'svg' || e.className === 'skip') continue;
    const r = e.getBoundingClientRect();
    if (r.width && (r.right > wide + 0.5 || r.left < -0.5)) out.push('wider than the page: ' + name(e));
  }
  let level = 0;
  for (const h of document.querySelectorAll('h1, h2, h3, h4, h5, h6')) {
    const n = +h.tagName[1];
    if (n > level + 1) out.push('heading skips a level: ' + name(h));
    level = n;
  }
  for (const s of document.querySelectorAll('svg')) {
    const v = s.viewBox.baseVal, scale = s.getBoundingClientRect().width / v.width;
    if (14 * scale < 11.5) out.push('letters too small: ' + 14 * scale + ' px, ' + name(s));
    const texts = [...s.querySelectorAll('text')];
    for (const e of s.querySelectorAll('text, circle, line, polyline, polygon, rect')) {
      const b = e.getBBox();
      if (b.x < 0 || b.y < 0 || b.x + b.width > v.width || b.y + b.height > v.height) out.push('clipped in ' + s.id + name(s.parentNode) + ': ' + e.outerHTML);
    }
    texts.forEach((a, i) => texts.slice(i + 1).forEach(c => {
      const p = a.getBBox(), q = c.getBBox();
      if (p.width && q.width && p.x < q.x + q.width && q.x < p.x + p.width && p.y + 3 < q.y + q.height - 3 && q.y + 3 < p.y + p.height - 3)
        out.push('one text over another: ' + a.textContent + ' / ' + c.textContent);
    }));
  }
  const parse = c => c.match(/[\d.]+/g).map(Number);
  const light = ([r, g, b]) => { const f = x => (x /= 255) <= 0.04045 ? x / 12.92 : ((x + 0.055) / 1.055) ** 2.4; return 0.2126 * f(r) + 0.7152 * f(g) + 0.0722 * f(b); };
  const paper = light(parse(getComputedStyle(document.body).backgroundColor));
  for (const e of document.querySelectorAll('body *')) {
    if (![...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim())) continue;
    const ink = light(parse(getComputedStyle(e).color)), c = (Math.max(ink, paper) + 0.05) / (Math.min(ink, paper) + 0.05);
    if (c < 4.5) out.push('contrast ' + c.toFixed(1) + ': ' + name(e));
  }
  return out;
})()`

// pageOf writes a document as a page and gives its address.
func pageOf(t *testing.T, doc *Doc) string {
	var b bytes.Buffer
	require.NoError(t, doc.HTML(&b))
	path := filepath.Join(t.TempDir(), "report.html")
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o600))
	return (&url.URL{Scheme: "file", Path: filepath.ToSlash(path)}).String()
}

func TestInBrowser(t *testing.T) {
	b := openBrowser(t)
	worn := historyOf(t, kept(0, 9, 0.3, 40000), kept(400, 6.5, 0.3, 52000), kept(800, 4, 0.3, 64000))
	for name, doc := range map[string]*Doc{"whole": write(everyPlot(), true), "hostile": write(hostile(), true), "empty": write(&record.Record{}, true),
		"history": worn.Doc(), "compared": Compare(hostile(), everyPlot()).Doc()} {
		address := pageOf(t, doc)
		for _, screen := range []struct {
			name          string
			width, height int
			phone         bool
			schemes       []string
		}{{"phone", 360, 740, true, []string{"light", "dark"}}, {"desk", 1280, 900, false, []string{"dark", "light"}}} {
			if name != "whole" {
				screen.schemes = screen.schemes[:1]
			}
			for _, scheme := range screen.schemes {
				b.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": screen.width, "height": screen.height, "deviceScaleFactor": 1, "mobile": screen.phone})
				b.call("Emulation.setEmulatedMedia", map[string]any{"features": []any{map[string]any{"name": "prefers-color-scheme", "value": scheme}}})
				b.open(address)
				var faults []string
				b.run(&faults, looks)
				assert.Empty(t, faults, "%s, %s, %s", name, screen.name, scheme)
				for _, e := range b.events {
					switch e.Method {
					case "Log.entryAdded", "Runtime.consoleAPICalled", "Runtime.exceptionThrown":
						t.Errorf("%s: the console says %s", name, e.Params)
					case "Network.requestWillBeSent":
						var r struct{ Request struct{ URL string } }
						require.NoError(t, json.Unmarshal(e.Params, &r))
						assert.Equal(t, address, r.Request.URL, "asks for something from elsewhere")
					}
				}
				b.keep("Page.captureScreenshot", map[string]any{"captureBeyondViewport": true}, name+"-"+screen.name+"-"+scheme+".png")
			}
		}
		b.call("Emulation.clearDeviceMetricsOverride", nil)
		b.call("Emulation.setEmulatedMedia", map[string]any{"features": []any{}})
		for paper, size := range map[string][2]float64{"a4": {8.27, 11.69}, "letter": {8.5, 11}} {
			pdf := b.keep("Page.printToPDF", map[string]any{"paperWidth": size[0], "paperHeight": size[1], "generateTaggedPDF": true}, name+"-"+paper+".pdf")
			figures := pdfFigures(t, pdf)
			var drawn int
			b.run(&drawn, "document.querySelectorAll('svg').length")
			assert.Len(t, figures, drawn, "%s on %s: a plot is not in the PDF", name, paper)
			for figure, pages := range figures {
				assert.Len(t, pages, 1, "%s on %s: %s is cut by the end of a page", name, paper, figure)
			}
		}
	}
}

// keep gives the data of a picture or a PDF, and writes it to -pictures.
func (b *browser) keep(method string, params any, name string) []byte {
	if *pictures == "" && strings.HasSuffix(name, ".png") {
		return nil
	}
	var r struct{ Data string }
	b.into(&r, method, params)
	data, err := base64.StdEncoding.DecodeString(r.Data)
	require.NoError(b.t, err)
	if *pictures != "" {
		require.NoError(b.t, os.WriteFile(filepath.Join(*pictures, name), data, 0o600))
	}
	return data
}

var (
	pdfObject = regexp.MustCompile(`(?s)(\d+) 0 obj\s(.*?)endobj`)
	pdfPage   = regexp.MustCompile(`/Pg (\d+) 0 R`)
)

// pdfFigures gives the pages on which each figure of a tagged PDF stands.
func pdfFigures(t *testing.T, pdf []byte) map[string]map[string]bool {
	require.True(t, bytes.HasPrefix(pdf, []byte("%PDF")))
	out := map[string]map[string]bool{}
	for _, m := range pdfObject.FindAllSubmatch(pdf, -1) {
		if !bytes.Contains(m[2], []byte("/S /Figure")) {
			continue
		}
		pages := map[string]bool{}
		if !bytes.Contains(m[2], []byte("/Alt ")) { // the box round it and its caption
			continue
		}
		for _, p := range pdfPage.FindAllSubmatch(m[2], -1) {
			pages[string(p[1])] = true
		}
		out[fmt.Sprintf("object %s", m[1])] = pages
	}
	return out
}
