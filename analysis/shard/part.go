package shard

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"hash"
	"io"
	"slices"
	"strings"
)

// A part's file is text. Its first line says what it is a part of, a line for every record
// follows in the order of items, and the last line has the SHA-256 of all before it.

// What a part's file says it is.
const (
	partFormat  = "tyro part"
	partVersion = 1
)

// A Run is what makes an answer: nothing else changes a number of it.
type Run struct {
	Tyro  string   `json:"tyro"`        // version
	Words []string `json:"command"`     // of the command line, without what never changes an answer
	Seed  uint64   `json:"seed"`        // as settled
	Data  string   `json:"data_sha256"` // of the study; blank without
}

// A Head is the first line of a part.
type Head struct {
	Format  string `json:"format"`
	Version int    `json:"format_version"`
	Run
	Cut
	Work Work `json:"work"`
}

// ending is the last line.
func ending(records int, sum hash.Hash) string {
	return fmt.Sprintf(`{"records":%d,"sha256":"%x"}`, records, sum.Sum(nil))
}

// Write writes the part that a ledger of one shard holds.
func (l *Ledger) Write(w io.Writer, r Run) error {
	head, err := json.Marshal(Head{Format: partFormat, Version: partVersion, Run: r, Cut: l.cut, Work: l.Work})
	if err != nil {
		return err
	}
	sum := sha256.New()
	b := bufio.NewWriter(w)
	to := io.MultiWriter(b, sum)
	for _, line := range slices.Concat([][]byte{head}, l.items) {
		to.Write(line) // an error stays with b
		to.Write([]byte{'\n'})
	}
	b.WriteString(ending(len(l.items), sum) + "\n")
	return b.Flush()
}

// A Part is a part that was read.
type Part struct {
	Name string // of its file
	Head
	records [][]byte
}

// A DamagedError is a file that is no whole part.
type DamagedError struct {
	Name, Why string
	Head      *Head // what its first line says, where that can be read
}

func (e DamagedError) Error() string {
	return fmt.Sprintf("%s is not a whole part: %s", e.Name, e.Why)
}

// ReadPart reads a part and checks it whole.
func ReadPart(name string, from io.Reader) (Part, error) {
	p := Part{Name: name}
	b := bufio.NewReaderSize(from, 1<<16)
	sum := sha256.New()
	first, err := nextLine(b, sum)
	if err != nil || json.Unmarshal(first, &p.Head) != nil || p.Format != partFormat {
		return p, DamagedError{Name: name, Why: "its first line is not that of a part"}
	}
	damaged := func(why string) (Part, error) { return p, DamagedError{name, why, &p.Head} }
	if p.Version != partVersion {
		return p, fmt.Errorf("%s is a part of format %d, and this version of tyro reads format %d", name, p.Version, partVersion)
	}
	if !p.sound() || p.Work.Items < 0 {
		return damaged("its first line names no shard")
	}
	for range p.Cut.Count(p.Work.Items) {
		line, err := nextLine(b, sum)
		if err != nil {
			return damaged("it ends early")
		}
		p.records = append(p.records, line)
	}
	want := ending(len(p.records), sum)
	last, err := nextLine(b, sum)
	switch {
	case err != nil:
		return damaged("it ends early")
	case string(last) != want:
		return damaged("its checksum is not that of what it holds")
	}
	if _, err := b.ReadByte(); err == nil {
		return damaged("it goes on after its end")
	}
	return p, nil
}

// nextLine is the next line without its end, which is added to the sum.
func nextLine(b *bufio.Reader, sum hash.Hash) ([]byte, error) {
	line, err := b.ReadBytes('\n')
	if err != nil {
		return nil, io.ErrUnexpectedEOF
	}
	sum.Write(line)
	return bytes.TrimSuffix(line, []byte{'\n'}), nil
}

// Differs says in which way another run is another; blank where it is not.
func (r Run) Differs(q Run) string {
	switch {
	case r.Tyro != q.Tyro:
		return against("version of tyro", r.Tyro, q.Tyro)
	case !slices.Equal(r.Words, q.Words):
		a, b := flagsOf(r.Words), flagsOf(q.Words)
		return against("command line", without(a, b), without(b, a))
	case r.Seed != q.Seed:
		return against("seed", r.Seed, q.Seed)
	case r.Data != q.Data:
		return against("data", short(r.Data), short(q.Data))
	}
	return ""
}

// Differs says in which way another part is of another run, or cut differently; blank where it
// is not. Which shard it is may differ.
func (h Head) Differs(q Head) string {
	if why := h.Run.Differs(q.Run); why != "" {
		return why
	}
	switch {
	case h.Of != q.Of:
		return against("number of shards", h.Of, q.Of)
	case h.Work != q.Work:
		return against("work", h.Work, q.Work)
	}
	return ""
}

// flagsOf are the words of a command line with each flag and its value as one.
func flagsOf(words []string) []string {
	var out []string
	for i, w := range words {
		if i > 0 && strings.HasPrefix(words[i-1], "--") && words[i-1] != "--" && !strings.HasPrefix(w, "--") {
			out[len(out)-1] += " " + w
		} else {
			out = append(out, w)
		}
	}
	return out
}

// without are those of a that b lacks, in words.
func without(a, b []string) string {
	var out []string
	for _, w := range a {
		if !slices.Contains(b, w) {
			out = append(out, w)
		}
	}
	if out == nil {
		return "nothing more"
	}
	return strings.Join(out, " ")
}

func against(what string, a, b any) string { return fmt.Sprintf("%s: %v against %v", what, a, b) }

func short(hash string) string {
	if hash == "" {
		return "none"
	}
	return hash[:min(12, len(hash))]
}
