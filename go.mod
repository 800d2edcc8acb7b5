module chock

go 1.26.0

require (
	github.com/adrg/xdg v0.5.3
	github.com/chzyer/readline v1.5.1
	github.com/creack/pty v1.1.24
	github.com/fatih/color v1.19.0
	github.com/hinshun/vt10x v0.0.0-20220301184237-5011da428d02
	github.com/kljensen/snowball v0.10.0
	github.com/manifoldco/promptui v0.9.0
	github.com/mattn/go-colorable v0.1.14
	github.com/mattn/go-runewidth v0.0.31
	github.com/natefinch/atomic v1.0.1
	github.com/rogpeppe/go-internal v1.16.0
	github.com/spf13/cobra v1.10.2
	github.com/spf13/pflag v1.0.9
	github.com/stretchr/testify v1.12.1
	golang.org/x/net v0.62.0
	golang.org/x/sys v0.50.0
	golang.org/x/term v0.48.0
	gonum.org/v1/gonum v0.17.0
	gopkg.in/yaml.v3 v3.0.1
	pgregory.net/rapid v1.3.0
)

require (
	github.com/clipperhouse/uax29/v2 v2.2.0 // indirect
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	github.com/mattn/go-isatty v0.0.20 // indirect
	go.yaml.in/yaml/v3 v3.0.5 // indirect
	golang.org/x/tools v0.30.0 // indirect
)
