module example.org/evenlot/wasm/browsertest

go 1.26.0

require (
	example.org/evenlot v0.0.0
	github.com/chromedp/cdproto v0.159.0
	github.com/chromedp/chromedp v0.23.0
	github.com/makiuchi-d/gozxing v0.1.1
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
)

require (
	github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
	github.com/shopspring/decimal v1.6.0 // indirect
	golang.org/x/text v0.23.0 // indirect
	golang.org/x/xerrors v0.0.0-20200804184101-5ec99f83aff1 // indirect
	gonum.org/v1/gonum v0.17.0 // indirect
)

replace example.org/evenlot => ../..
