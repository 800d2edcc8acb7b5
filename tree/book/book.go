// Package book holds chock's own book: the questions, trees and causes of a
// brake check, as YAML in the language that package tree reads. It has
// content only; nothing here runs.
package book

import "embed"

// FS is the book as it stands in this folder: book.yaml, first.yaml,
// causes.yaml, one file for each complaint, and what several trees share.
//
//go:embed *.yaml complaints shared
var FS embed.FS
