//go:build e2e

package main

import (
	"context"
	"net/http/httptest"
	"os"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"larderlamp/testdata/bare"
	"larderlamp/wasm/hosting"
)

// startLimit is how much longer than the bare page the first question may take.
const startLimit = 1.15

// BenchmarkStart measures, from the start of the navigation, when the check
// page can be answered and when the bare page can: cold (nothing on the device)
// and warm (from the service worker), at full speed and four times slowed. Both
// pages make the mark "answerable" when they answer. Each round measures both,
// one after the other; the medians are reported in milliseconds, and it fails
// above startLimit. It reads the programs of `make build`: the folder
// PROGRAMS and the file BARE_PROGRAM.
func BenchmarkStart(b *testing.B) {
	programs, none := os.Getenv("PROGRAMS"), ""
	ours, err := sources{prefix: &none, programs: &programs}.assemble()
	if err != nil {
		b.Fatal(err)
	}
	bareProgram, err := readProgram(os.Getenv("BARE_PROGRAM"))
	if err != nil {
		b.Fatal(err)
	}
	other, err := bare.Assemble(bareProgram)
	if err != nil {
		b.Fatal(err)
	}
	var pages [2]string
	for i, site := range []*hosting.Site{ours, other} {
		site.Compress(hosting.Quick)
		server := httptest.NewServer(site)
		defer server.Close()
		pages[i] = server.URL + "/"
	}
	pages[0] += "check"

	ctx, stop := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(b.TempDir()),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))...)
	defer stop()
	ctx, leave := chromedp.NewContext(ctx)
	defer leave()
	if err := chromedp.Do(ctx, chromedp.Navigate("about:blank")); err != nil {
		b.Fatal(err)
	}

	for name, slow := range map[string]float64{"full-speed": 1, "slowed-4x": 4} {
		b.Run(name, func(b *testing.B) {
			var cold, warm [2][]float64
			for b.Loop() {
				for i, page := range pages {
					c, w := start(b, ctx, page, slow)
					cold[i], warm[i] = append(cold[i], c), append(warm[i], w)
				}
			}
			report(b, "cold", cold)
			report(b, "warm", warm)
		})
	}
}

// start opens a page in a fresh browser context, twice, and gives the
// milliseconds until it was answerable.
func start(b *testing.B, browser context.Context, page string, slow float64) (cold, warm float64) {
	b.Helper()
	ctx, leave := chromedp.NewContext(browser, chromedp.WithNewBrowserContext())
	defer leave()
	ctx, cancel := context.WithTimeout(ctx, time.Minute)
	defer cancel()
	if _, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("true")); err != nil {
		b.Fatal(err)
	}
	if _, err := chromedp.Call(ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: slow}); err != nil {
		b.Fatal(err)
	}
	const answerable = `new Promise((done) => {
		const look = () => {
			const marks = performance.getEntriesByName("answerable");
			marks.length > 0 ? done(marks[0].startTime) : setTimeout(look, 20);
		};
		look();
	})`
	for _, ms := range []*float64{&cold, &warm} {
		if err := chromedp.Do(ctx, chromedp.Navigate("about:blank"), chromedp.Navigate(page)); err != nil {
			b.Fatalf("%s: %v", page, err)
		}
		var err error
		if *ms, err = chromedp.Run(ctx, chromedp.Evaluate[float64](answerable, chromedp.EvalAwaitPromise)); err != nil {
			b.Fatalf("%s was never answerable: %v", page, err)
		}
		if _, err = chromedp.Run(ctx, chromedp.Evaluate[bool](`navigator.serviceWorker.ready.then(() => true)`, chromedp.EvalAwaitPromise)); err != nil {
			b.Fatalf("%s was never on the device: %v", page, err)
		}
	}
	return cold, warm
}

// report gives the medians of ours and of the bare page, and their ratio.
func report(b *testing.B, what string, ms [2][]float64) {
	var median [2]float64
	for i := range ms {
		slices.Sort(ms[i])
		median[i] = ms[i][len(ms[i])/2]
	}
	ratio := median[0] / median[1]
	b.ReportMetric(median[0], what+"-ms")
	b.ReportMetric(median[1], what+"-bare-ms")
	b.ReportMetric(ratio, what+"-ratio")
	if ratio > startLimit {
		b.Errorf("%s start is %.2f times that of the bare page, more than %.2f", what, ratio, startLimit)
	}
}
