module larderlamp

go 1.26.0

require (
	github.com/andybalholm/brotli v1.2.8
	github.com/arran4/golang-ical v0.3.4
	github.com/chromedp/cdproto v0.159.0
	github.com/chromedp/chromedp v0.23.0
	github.com/coder/websocket v1.8.15
	github.com/ebitengine/purego v0.11.3
	github.com/google/uuid v1.6.0
	github.com/hack-pad/go-indexeddb v0.3.2
	github.com/makiuchi-d/gozxing v0.1.1
	github.com/maxence-charriere/go-app/v10 v10.1.11
	github.com/rogpeppe/go-internal v1.14.1
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
	github.com/tdewolff/minify/v2 v2.24.25
	github.com/tetratelabs/wazero v1.10.1
	golang.org/x/text v0.23.0
	gonum.org/v1/gonum v0.17.0
	rsc.io/qr v0.2.0
)

require (
	github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
	github.com/hack-pad/safejs v0.1.0 // indirect
	github.com/tdewolff/parse/v2 v2.8.20 // indirect
	golang.org/x/sys v0.49.0 // indirect
	golang.org/x/tools v0.30.0 // indirect
	golang.org/x/xerrors v0.0.0-20200804184101-5ec99f83aff1 // indirect
)
