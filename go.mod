module larderlamp

go 1.26

require (
	github.com/andybalholm/brotli v1.2.8
	github.com/chromedp/cdproto v0.159.0
	github.com/chromedp/chromedp v0.23.0
	github.com/google/uuid v1.6.0
	github.com/hack-pad/go-indexeddb v0.3.2
	github.com/maxence-charriere/go-app/v10 v10.1.11
	rsc.io/qr v0.2.0
)

require (
	github.com/davecgh/go-spew v1.1.1 // indirect
	github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
	github.com/hack-pad/safejs v0.1.0 // indirect
	github.com/stretchr/testify v1.7.0 // indirect
	gopkg.in/yaml.v3 v3.0.1 // indirect
)
