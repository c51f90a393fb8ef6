package main

import (
	"bytes"
	"crypto/rand"
	"encoding/binary"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tyro/analysis/allocation"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/reports"
)

// listFlags are the choices of an allocation list.
type listFlags struct {
	places   int
	blocks   []int
	strata   []string
	shares   []int
	minimise string
	factors  []string
	chance   float64
}

var listFlagNames = []string{"arms", "randomise", "blocks", "stratum", "arm-shares", "minimise", "factors", "favour"}

func (f *listFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.IntVar(&f.places, "randomise", 0, "make an allocation list with so many places (in each stratum) for --arms, into --out, with --seed")
	fs.IntSliceVar(&f.blocks, "blocks", nil, "sizes that blocks are drawn from (default: 2 and 3 times the arms)")
	fs.StringArrayVar(&f.strata, "stratum", nil, "name of a stratum with a list of its own, once for each")
	fs.IntSliceVar(&f.shares, "arm-shares", nil, "trainees that the arms get in proportion, such as 1,2 (default: equal)")
	fs.StringVar(&f.minimise, "minimise", "", "deal the trainees of this `table` out to --arms by minimisation, one row a trainee in the order in which they came")
	fs.StringSliceVar(&f.factors, "factors", nil, "with --minimise: columns in which the arms are to be alike; the first column of the table names the trainee")
	fs.Float64Var(&f.chance, "favour", 0.8, "with --minimise: chance that a trainee goes to the arm that leaves the least imbalance")
}

// A sealedPlace is one place of a list with what only its key tells.
type sealedPlace struct {
	number  int
	stratum string
	who     string // trainee, by minimisation
	code    string
	arm     string
	block   int
}

// leastListSeed is the smallest seed of a list: codes that everybody sees follow from the
// seed, and trying them all must not be possible.
const leastListSeed = 1e15

// freshSeed is a seed that nobody can guess.
func freshSeed() uint64 {
	var b [8]byte
	rand.Read(b[:]) // never fails
	return leastListSeed + binary.LittleEndian.Uint64(b[:])%(1<<62)
}

// randomise makes an allocation list. Everything from which an arm can be told is for its
// owner alone.
func (a app) randomise(cmd *cobra.Command, f *planStudyFlags) error {
	if f.common.outDir == "" || isPlanFile(f.common.outDir) {
		return usagef("an allocation list needs --out FOLDER: it is not printed, since whoever recruits must not see it")
	}
	if f.common.seed < leastListSeed {
		return usagef("an allocation list needs --seed with a number of 16 digits or more, drawn by chance, since a smaller one could be found by trying; here is one: --seed %d", freshSeed())
	}
	l, arms := &f.list, allocation.Arms{Names: trimmed(f.course.arms), Shares: f.list.shares}
	var places []sealedPlace
	var method string
	var err error
	hash := ""
	if l.minimise != "" {
		if cmd.Flags().Changed("randomise") || l.blocks != nil || l.strata != nil {
			return usagef("--minimise takes no --randomise, --blocks or --stratum")
		}
		method = "minimisation"
		places, hash, err = l.minimised(cmd, f.common.seed, arms)
	} else {
		if l.factors != nil || cmd.Flags().Changed("favour") {
			return usagef("--factors and --favour go with --minimise")
		}
		method = "permuted blocks"
		places, err = l.permuted(f.common.seed, arms)
	}
	if err != nil {
		return err
	}
	s, err := study.New(practice.Practice{SHA256: hash}, f.common.ofStudy(nil))
	if err != nil {
		return err
	}
	var strata []string
	for _, p := range places {
		strata = append(strata, p.stratum)
	}
	files, err := rendered(reports.NewAllocation(s, method, arms.Names, strata))
	if err != nil {
		return err
	}
	private, err := sealed(places, f.common.seed, method, arms, l)
	if err != nil {
		return err
	}
	files["allocation-list.csv"] = openList(places)
	maps.Copy(files, private)
	return a.write(folderWrite{dir: f.common.outDir, command: "plan", files: files, private: slices.Sorted(maps.Keys(private))})
}

// permuted deals places out in blocks.
func (l *listFlags) permuted(seed uint64, arms allocation.Arms) ([]sealedPlace, error) {
	strata, blocks := l.strata, l.blocks
	if strata == nil {
		strata = []string{""}
	}
	if blocks == nil {
		round := len(arms.Names)
		if arms.Shares != nil {
			round = 0
			for _, n := range arms.Shares {
				round += n
			}
		}
		blocks = []int{2 * round, 3 * round}
	}
	slots, err := allocation.Blocks(seed, arms, blocks, strata, l.places)
	if err != nil {
		return nil, usageError{err}
	}
	var out []sealedPlace
	for _, s := range slots {
		out = append(out, sealedPlace{number: s.Number, stratum: s.Stratum, code: s.Code, arm: s.Arm, block: s.Block})
	}
	return out, nil
}

// minimised deals the trainees of a table out.
func (l *listFlags) minimised(cmd *cobra.Command, seed uint64, arms allocation.Arms) ([]sealedPlace, string, error) {
	if len(l.factors) == 0 {
		return nil, "", usagef("--minimise needs --factors, the columns in which the arms are to be alike")
	}
	who, rows, hash, err := datasets.OpenFactors(cmd.Context(), l.minimise, trimmed(l.factors))
	if err != nil {
		return nil, "", err
	}
	placed, err := allocation.Minimise(seed, arms, rows, l.chance)
	if err != nil {
		return nil, "", usageError{err}
	}
	var out []sealedPlace
	for i, p := range placed {
		out = append(out, sealedPlace{number: i + 1, who: who[i], stratum: strings.Join(rows[i], " / "), code: p.Code, arm: p.Arm})
	}
	return out, hash, nil
}

// openList is what everybody may see: a code for every place.
func openList(places []sealedPlace) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Write([]string{"place", "stratum", "trainee", "code"})
	for _, p := range places {
		w.Write([]string{fmt.Sprint(p.number), datasets.GuardCell(p.stratum), datasets.GuardCell(p.who), p.code})
	}
	w.Flush()
	return b.Bytes()
}

// nonce is a word by chance, so that no text with it can be guessed.
func nonce(seed uint64, i int) string {
	r := resample.Stream(seed, "allocation/nonce", i)
	return fmt.Sprintf("%016x%016x", r.Uint64(), r.Uint64())
}

// sealed are the files that tell an arm, by name.
func sealed(places []sealedPlace, seed uint64, method string, arms allocation.Arms, l *listFlags) (map[string][]byte, error) {
	files := map[string][]byte{}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Write([]string{"code", "arm", "place", "stratum", "block", "nonce"})
	digits, longest := len(fmt.Sprint(len(places))), 0
	for _, name := range arms.Names {
		longest = max(longest, len(name))
	}
	for i, p := range places {
		w.Write([]string{p.code, datasets.GuardCell(p.arm), fmt.Sprint(p.number), datasets.GuardCell(p.stratum), fmt.Sprint(p.block), nonce(seed, i)})
		text := fmt.Sprintf("Place %d", p.number)
		if p.stratum != "" {
			text += ", " + p.stratum
		}
		// The size of the file, and its checksum in the folder's list, must not tell the arm.
		text += fmt.Sprintf("\nCode %s\nArm: %s%s\n\nTrainee:\nOpened on, by:\n\n(%s)\n", p.code, p.arm, strings.Repeat(" ", longest-len(p.arm)), nonce(seed, i))
		files[fmt.Sprintf("sealed/%0*d-%s.txt", digits, i+1, p.code)] = []byte(reports.PrintableBut(text, "\n"))
	}
	w.Flush()
	files["allocation-key.csv"] = b.Bytes()
	how := map[string]any{"seed": seed, "generator": "ChaCha8", "version": reports.Version, "method": method, "arms": arms, "blocks": l.blocks, "strata": l.strata, "factors": l.factors, "favour": l.chance}
	text, err := json.MarshalIndent(how, "", "  ")
	files["allocation-key.json"] = append(text, '\n')
	return files, err
}
