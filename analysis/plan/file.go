package plan

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"slices"

	"tyro/analysis/resample"
	"tyro/analysis/shard"
)

// Format is what a plan's file says it is.
const Format = "tyro plan"

// A File is a plan as it is kept: the design, what made it, and the outcomes of the studies
// simulated so far. More studies, sizes and trainees can be added at any time, and are the
// same as if they had been simulated at once.
type File struct {
	Format     string `json:"format"`
	Version    string `json:"version"` // of the program
	Seed       uint64 `json:"seed"`
	Generator  string `json:"generator"`
	DataSHA256 string `json:"data_sha256"` // of what the assumptions were taken from; blank for none
	Design     Design `json:"design"`      // its size is that of the first cell
	Cells      []Cell `json:"cells"`
}

// A Cell is one size with its outcomes, in the order of the studies.
type Cell struct {
	Trainees int       `json:"trainees"`
	Attempts int       `json:"attempts"`
	Outcomes []Outcome `json:"outcomes"`
}

// NewFile is a plan of which nothing is simulated yet.
func NewFile(d Design, version string, seed uint64, dataSHA256 string) *File {
	return &File{Format: Format, Version: version, Seed: seed, Generator: resample.Generator, DataSHA256: dataSHA256, Design: d}
}

// sealed is a plan's file with the checksum of its plan.
type sealed struct {
	SHA256 string          `json:"sha256"`
	Plan   json.RawMessage `json:"plan"`
}

// Write writes the plan with a checksum.
func (f *File) Write(w io.Writer) error {
	text, err := json.Marshal(f)
	if err != nil {
		return err
	}
	sum := sha256.Sum256(text)
	_, err = fmt.Fprintf(w, "{\"sha256\":%q,\n\"plan\":%s}\n", hex.EncodeToString(sum[:]), text)
	return err
}

// ReadFile reads a plan that [File.Write] wrote. One that was changed since is an error.
func ReadFile(r io.Reader) (*File, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	var s sealed
	if err := json.Unmarshal(text, &s); err != nil || s.Plan == nil {
		return nil, fmt.Errorf("this is no plan's file")
	}
	f := &File{}
	if err := json.Unmarshal(s.Plan, f); err != nil || f.Format != Format {
		return nil, fmt.Errorf("this is no plan's file: its format is %q, not %q", f.Format, Format)
	}
	if sum := sha256.Sum256(s.Plan); hex.EncodeToString(sum[:]) != s.SHA256 {
		return nil, fmt.Errorf("this plan's file was changed or cut short since it was written: its checksum is not that of its contents")
	}
	if err := f.Design.Check(); err != nil {
		return nil, err
	}
	for _, c := range f.Cells {
		for i, o := range c.Outcomes {
			if i > 0 && o.Study <= c.Outcomes[i-1].Study || o.Study < 0 {
				return nil, fmt.Errorf("this plan's file lists study %d of %d trainees and %d attempts out of order", o.Study, c.Trainees, c.Attempts)
			}
		}
	}
	return f, nil
}

// SameAs is an error that says what differs where another plan's studies are not of this
// one.
func (f *File) SameAs(o *File) error {
	a, _ := json.Marshal(f.Design.At(0, 0))
	b, _ := json.Marshal(o.Design.At(0, 0))
	switch {
	case f.Version != o.Version:
		return fmt.Errorf("it was made by version %s, and this is %s", o.Version, f.Version)
	case f.Seed != o.Seed:
		return fmt.Errorf("it was made with seed %d, and this is seed %d", o.Seed, f.Seed)
	case f.DataSHA256 != o.DataSHA256:
		return fmt.Errorf("its assumptions come from other data")
	case !bytes.Equal(a, b):
		return fmt.Errorf("it is of another design")
	}
	return nil
}

// cell is the cell of a size; it is added where there is none.
func (f *File) cell(trainees, attempts int) *Cell {
	for i := range f.Cells {
		if c := &f.Cells[i]; c.Trainees == trainees && c.Attempts == attempts {
			return c
		}
	}
	f.Cells = append(f.Cells, Cell{Trainees: trainees, Attempts: attempts, Outcomes: []Outcome{}})
	return &f.Cells[len(f.Cells)-1]
}

// add puts outcomes into their place; those there already stay.
func (c *Cell) add(outcomes []Outcome) {
	for _, o := range outcomes {
		i, there := slices.BinarySearchFunc(c.Outcomes, o.Study, func(o Outcome, study int) int { return o.Study - study })
		if !there {
			c.Outcomes = slices.Insert(c.Outcomes, i, o)
		}
	}
}

// missing lists the runs of studies below n that have no outcome: from ≤ study < to.
func (c *Cell) missing(n int) (runs [][2]int) {
	next := 0
	for _, o := range c.Outcomes {
		if o.Study >= n {
			break
		}
		if o.Study > next {
			runs = append(runs, [2]int{next, o.Study})
		}
		next = o.Study + 1
	}
	if next < n {
		runs = append(runs, [2]int{next, n})
	}
	return runs
}

// first are the outcomes of studies below n.
func (c *Cell) first(n int) []Outcome {
	i, _ := slices.BinarySearchFunc(c.Outcomes, n, func(o Outcome, study int) int { return o.Study - study })
	return c.Outcomes[:i]
}

// A Size is one number of trainees and attempts to look at.
type Size struct{ Trainees, Attempts int }

// A Work is how a plan's studies are simulated.
type Work struct {
	Workers  int
	Progress func(done, total int)
	Keep     func(*File) error // called now and then with what there is so far; nil: nobody keeps it
	Ledger   *shard.Ledger     // for studies that are cut into shards; nil: all are simulated here
}

// atOnce is how many studies are simulated before what there is may be kept.
const atOnce = 40

// Run simulates the first studies of every size, as far as they are missing. Where ctx
// ends first, the file holds those that were finished.
func (f *File) Run(ctx context.Context, sizes []Size, studies int, w Work) error {
	if w.Ledger != nil {
		return f.runCut(ctx, sizes, studies, w)
	}
	total, done := 0, 0
	for _, z := range sizes {
		for _, run := range f.cell(z.Trainees, z.Attempts).missing(studies) {
			total += run[1] - run[0]
		}
	}
	for _, z := range sizes {
		err := f.fill(ctx, z, studies, w, func(n int) {
			if done += n; w.Progress != nil {
				w.Progress(done, total)
			}
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// runCut is Run for studies that are cut into shards: of every size all of them.
func (f *File) runCut(ctx context.Context, sizes []Size, studies int, w Work) error {
	sampling := resample.Sampling{Seed: f.Seed, Workers: w.Workers, Progress: w.Progress, Ledger: w.Ledger}
	all, err := resample.Items(ctx, len(sizes)*studies, sampling, "studies", func() func(int) (Outcome, error) {
		return func(i int) (Outcome, error) {
			z, study := sizes[i/studies], i%studies
			out, err := Simulate(ctx, f.Design.At(z.Trainees, z.Attempts), study, study+1, resample.Sampling{Seed: f.Seed, Workers: 1})
			if err != nil {
				return Outcome{}, err
			}
			return out[0], nil
		}
	})
	if err != nil {
		return err
	}
	for k, z := range sizes {
		f.cell(z.Trainees, z.Attempts).add(all[k*studies : (k+1)*studies])
	}
	return nil
}

// fill simulates what is missing of one size.
func (f *File) fill(ctx context.Context, z Size, studies int, w Work, more func(int)) error {
	d := f.Design.At(z.Trainees, z.Attempts)
	for _, run := range f.cell(z.Trainees, z.Attempts).missing(studies) {
		for from := run[0]; from < run[1]; from += atOnce {
			to := min(from+atOnce, run[1])
			s := resample.Sampling{Seed: f.Seed, Workers: w.Workers}
			if more != nil {
				s.Progress = func(int, int) { more(1) }
			}
			out, err := Simulate(ctx, d, from, to, s)
			f.cell(z.Trainees, z.Attempts).add(out)
			if err != nil {
				return err
			}
			if w.Keep != nil {
				if err := w.Keep(f); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// Row summarises the first studies of a size.
func (f *File) Row(z Size, studies int) Row {
	return Summarise(f.Design.At(z.Trainees, z.Attempts), f.cell(z.Trainees, z.Attempts).first(studies))
}

// A Recheck says whether simulating studies again gave what a plan's file holds.
type Recheck struct {
	Studies int // simulated again
	Held    int // in the file
	Differ  []Differing
}

// A Differing is a study whose outcome is not that of the file.
type Differing struct {
	Trainees, Attempts, Study int
}

// Check simulates some of the file's studies again, chosen at random by their numbers, and
// compares them to the last digit.
func (f *File) Check(ctx context.Context, sample int, w Work) (Recheck, error) {
	type place struct{ cell, at int }
	var all []place
	for c := range f.Cells {
		for i := range f.Cells[c].Outcomes {
			all = append(all, place{c, i})
		}
	}
	r := Recheck{Held: len(all)}
	if len(all) == 0 {
		return r, fmt.Errorf("this plan's file holds no study yet")
	}
	stream := resample.Stream(f.Seed, "plan/check", len(all))
	stream.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	all = all[:min(sample, len(all))]
	slices.SortFunc(all, func(a, b place) int { return 1_000_000*(a.cell-b.cell) + a.at - b.at })
	differ := make([]bool, len(all))
	err := resample.Each(ctx, len(all), resample.Sampling{Workers: w.Workers, Progress: w.Progress}, func() func(int) error {
		return func(k int) error {
			c := f.Cells[all[k].cell]
			kept := c.Outcomes[all[k].at]
			again, err := Simulate(ctx, f.Design.At(c.Trainees, c.Attempts), kept.Study, kept.Study+1, resample.Sampling{Seed: f.Seed, Workers: 1})
			if err != nil {
				return err
			}
			a, _ := json.Marshal(kept)
			b, _ := json.Marshal(again[0])
			differ[k] = !bytes.Equal(a, b)
			return nil
		}
	})
	if err != nil {
		return r, err
	}
	r.Studies = len(all)
	for k, p := range all {
		if c := f.Cells[p.cell]; differ[k] {
			r.Differ = append(r.Differ, Differing{c.Trainees, c.Attempts, c.Outcomes[p.at].Study})
		}
	}
	return r, nil
}
