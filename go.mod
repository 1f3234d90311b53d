module larderlamp

go 1.26

require (
	github.com/andybalholm/brotli v1.2.8
	github.com/chromedp/cdproto v0.159.0
	github.com/chromedp/chromedp v0.23.0
	github.com/google/uuid v1.6.0
	github.com/hack-pad/go-indexeddb v0.3.2
	github.com/hack-pad/safejs v0.1.0
	github.com/maxence-charriere/go-app/v10 v10.1.11
)

require github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
