//go:build e2e && linux

package main

import (
	"context"
	"net/http/httptest"
	"os"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"larderlamp/app/e2e/drive"
	"larderlamp/wasm/bare"
	"larderlamp/wasm/hosting"
)

// BenchmarkStart measures, from the start of the navigation, when the first
// question of the check page can be answered and when the bare page can: cold
// (nothing on the device) and warm (from the service worker), at full speed, and
// four times slowed with the network of a phone. Both pages make the mark
// "answerable" when they answer; ours does before its program has loaded, and
// makes the mark "program" when that draws. Each round measures both pages, one
// after the other; the medians are reported in milliseconds, and judged by
// wasm/bars. It reads the programs of `make build`: the folder PROGRAMS and
// the file BARE_PROGRAM.
func BenchmarkStart(b *testing.B) {
	programs, none, patience := os.Getenv("PROGRAMS"), "", hosting.DefaultPatience
	ours, err := sources{prefix: &none, programs: &programs, texts: &none, contact: &none, patience: &patience}.assemble()
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
	var pages [3]string
	for i, site := range []*hosting.Site{ours, other} {
		site.Compress(hosting.Quick)
		server := httptest.NewServer(site)
		defer server.Close()
		pages[i] = server.URL + "/"
	}
	pages[0], pages[2] = pages[0]+"check", pages[0]+"shelf"

	follow, ended := drive.Follow()
	defer ended()
	ctx, stop := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(b.TempDir()), chromedp.ModifyCmdFunc(follow),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))...)
	defer stop()
	ctx, leave := chromedp.NewContext(ctx)
	defer leave()
	if err := chromedp.Do(ctx, chromedp.Navigate("about:blank")); err != nil {
		b.Fatal(err)
	}

	for _, speed := range []struct {
		name string
		slow float64
		net  *network.Conditions
	}{
		{"full-speed", 1, nil},
		// 4G as a phone has it inside a house: from memory.
		{"slowed-4x-4G", 4, &network.Conditions{Latency: 60, DownloadThroughput: 9e6 / 8, UploadThroughput: 1.5e6 / 8}},
	} {
		b.Run(speed.name, func(b *testing.B) {
			var found [2][2][3][]float64 // cold or warm; mark; the check, the bare page or the shelf
			for b.Loop() {
				for i, page := range pages {
					for when, marks := range start(b, ctx, page, speed.slow, speed.net) {
						for m, ms := range marks {
							found[when][m][i] = append(found[when][m][i], ms)
						}
					}
				}
			}
			for when, what := range []string{"cold", "warm"} {
				report(b, what, found[when][0])
				report(b, what+"-program", found[when][1])
			}
			b.ReportMetric(median(found[1][1][2]), "address-ms")
		})
	}
}

// start opens a page in a fresh browser context, twice, cold and then warm, and
// gives the milliseconds until it was answerable and until its program had
// started, which for the bare page is the same.
func start(b *testing.B, browser context.Context, page string, slow float64, net *network.Conditions) (found [2][2]float64) {
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
	// Otherwise the page stands still while the whole program is copied for somebody who
	// looks on, which in the hands of a person nobody does.
	none := int64(0)
	if _, err := chromedp.Call(ctx, network.Disable, cdp.Empty{}); err != nil {
		b.Fatal(err)
	}
	if _, err := chromedp.Call(ctx, network.Enable, network.EnableParams{MaxTotalBufferSize: &none, MaxResourceBufferSize: &none}); err != nil {
		b.Fatal(err)
	}
	if net != nil {
		if _, err := chromedp.Call(ctx, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: []*network.Conditions{net}}); err != nil {
			b.Fatal(err)
		}
	}
	const marks = `new Promise((done) => {
		const at = (mark) => performance.getEntriesByName(mark)[0]?.startTime;
		const look = () => {
			const program = document.querySelector(".picker") ? at("program") : at("answerable");
			at("answerable") && program ? done([at("answerable"), program]) : setTimeout(look, 20);
		};
		look();
	})`
	for when := range found {
		if err := chromedp.Do(ctx, chromedp.Navigate("about:blank"), chromedp.Navigate(page)); err != nil {
			b.Fatalf("%s: %v", page, err)
		}
		ms, err := chromedp.Run(ctx, chromedp.Evaluate[[]float64](marks, chromedp.EvalAwaitPromise))
		if err != nil {
			b.Fatalf("%s was never answerable: %v", page, err)
		}
		copy(found[when][:], ms)
		if _, err = chromedp.Run(ctx, chromedp.Evaluate[bool](`navigator.serviceWorker.ready.then(() => true)`, chromedp.EvalAwaitPromise)); err != nil {
			b.Fatalf("%s was never on the device: %v", page, err)
		}
	}
	return found
}

// report reports the medians of ours and of the bare page.
func report(b *testing.B, what string, ms [3][]float64) {
	for i, unit := range []string{"-ms", "-bare-ms"} {
		b.ReportMetric(median(ms[i]), what+unit)
	}
}

func median(ms []float64) float64 {
	slices.Sort(ms)
	return ms[len(ms)/2]
}

// BenchmarkWeight weighs what an edition is to a device: everything that is needed
// without a connection, as a host with brotli sends it, beside the program of the
// bare page; the same from a host that compresses nothing; and what is stored.
func BenchmarkWeight(b *testing.B) {
	programs, none, patience := os.Getenv("PROGRAMS"), "", hosting.DefaultPatience
	site, err := sources{prefix: &none, programs: &programs, texts: &none, contact: &none, patience: &patience}.assemble()
	if err != nil {
		b.Fatal(err)
	}
	bareProgram, err := readProgram(os.Getenv("BARE_PROGRAM"))
	if err != nil {
		b.Fatal(err)
	}
	// The page of a check is the largest that is stored.
	w, bareSize := site.Weigh("/check"), len(hosting.Brotli(bareProgram, hosting.Best))
	for b.Loop() { // the same each time
		b.ReportMetric(float64(w.Compressed)/1000, "offline-kB")
		b.ReportMetric(float64(w.Plain)/1000, "plain-visit-kB")
		b.ReportMetric(float64(w.Stored)/1000, "stored-kB")
		b.ReportMetric(float64(bareSize)/1000, "bare-kB")
	}
}
