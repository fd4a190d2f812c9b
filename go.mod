module placketeer

go 1.26.8

require (
	codeberg.org/go-pdf/fpdf v0.11.1
	github.com/BurntSushi/toml v1.6.0
	github.com/chromedp/cdproto v0.159.0
	github.com/chromedp/chromedp v0.23.0
	github.com/fsnotify/fsnotify v1.10.1
	github.com/google/go-cmp v0.7.0
	github.com/rivo/uniseg v0.4.7
	github.com/rogpeppe/go-internal v1.16.0
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
	github.com/urfave/cli/v2 v2.27.7
	golang.org/x/image v0.27.0
	golang.org/x/term v0.32.0
	pgregory.net/rapid v1.3.0
)

require (
	github.com/cpuguy83/go-md2man/v2 v2.0.7 // indirect
	github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
	github.com/russross/blackfriday/v2 v2.1.0 // indirect
	github.com/xrash/smetrics v0.0.0-20240521201337-686a1a2994c1 // indirect
	golang.org/x/sys v0.33.0
	golang.org/x/text v0.25.0 // indirect
	golang.org/x/tools v0.26.0 // indirect
)
