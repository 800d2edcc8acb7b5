package ask

import "io"

// NewPrompt draws lists with promptui and takes lines with readline. in and
// out must be the terminal.
func NewPrompt(in io.Reader, out io.Writer, scr *Screen) Asker { return nil }
