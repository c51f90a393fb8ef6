package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"tyro/reports"
)

// What tyro puts into an output folder beside the results.
const (
	recordName = "manifest.json" // which files are tyro's to replace or delete
	stageName  = ".tyro-writing" // files not yet in place; only while a run writes, or after one died
	lockName   = ".tyro-lock"    // held by the run that writes
)

// A folderWrite puts the files of one run into a folder: all of them or none.
//
// The files are first written into a folder of their own beside their places, which
// only their owner can read. They then move into place one by one, while what they
// replace is kept. A failure puts everything back at once, and what a dead run left
// half done is put back by the next run. One run writes into a folder at a time.
//
// A record in the folder lists the files with their SHA-256. A file that is not in the
// record, or has changed since, is never replaced, and no file that the run has read.
type folderWrite struct {
	dir     string
	command string            // whose files these are; those of its last run go
	files   map[string][]byte // by name, with slashes for folders
	private []string          // of these, those that only their owner may read
	reads   []string          // files the run has read
	plain   bool              // a study to work on: nothing is recorded as tyro's own
	force   bool              // replace what tyro did not write, too
}

// A record is what is tyro's own in a folder.
type record struct {
	Tool    string    `json:"tool"`
	Version string    `json:"version"`
	Files   []ownFile `json:"files"`
}

// An ownFile is a file as tyro wrote it.
type ownFile struct {
	Name    string `json:"name"`
	Command string `json:"command"`
	SHA256  string `json:"sha256"`
}

// A change is what a write changes: files to put into place, and files of the command's
// last run that are no longer among its results.
type change struct {
	New  []string `json:"new"`
	Gone []string `json:"gone"`
}

// run writes the files and returns those of the last run that were left because
// somebody changed them.
func (w folderWrite) run(ctx context.Context) (left []string, err error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := w.checkNames(); err != nil {
		return nil, err
	}
	made, err := makeFolders(w.dir)
	if err != nil {
		return nil, cannotWrite(w.dir, err)
	}
	defer func() {
		if err != nil {
			removeEmpty(made)
		}
	}()
	unlock, err := lockFolder(ctx, w.dir)
	if err != nil {
		return nil, err
	}
	defer unlock()
	if err := putBack(w.dir); err != nil {
		return nil, cannotWrite(w.dir, err)
	}
	old, err := readRecord(w.dir)
	if err != nil {
		return nil, err
	}
	p, left, err := w.plan(old)
	if err != nil {
		return nil, err
	}
	if err := w.commit(ctx, p); err != nil {
		if undo := putBack(w.dir); undo != nil {
			err = errors.Join(err, undo)
		}
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, cannotWrite(w.dir, err)
	}
	return left, nil
}

// checkNames makes sure that no two files have one place, also where case does not
// count, and that none lies outside the folder.
func (w folderWrite) checkNames() error {
	taken := map[string]string{}
	for _, name := range slices.Sorted(maps.Keys(w.files)) {
		folded := strings.ToLower(name)
		if other, twice := taken[folded]; twice {
			return fmt.Errorf("two results would share the file %s (%s and %s)", folded, name, other)
		}
		taken[folded] = name
		if !filepath.IsLocal(filepath.FromSlash(name)) || folded == recordName {
			return fmt.Errorf("a result cannot be called %q", name)
		}
	}
	return nil
}

// plan settles which files change, or lists those that stand in the way.
func (w folderWrite) plan(old record) (change, []string, error) {
	var p change
	var left, blocked []string
	next := record{Tool: "tyro", Version: reports.Version, Files: []ownFile{}}
	for _, name := range slices.Sorted(maps.Keys(w.files)) {
		if why := w.blocks(name, old); why != "" {
			blocked = append(blocked, why)
		}
		if w.plain && w.same(name) {
			continue // left as it is
		}
		p.New = append(p.New, name)
		next.Files = append(next.Files, ownFile{name, w.command, hashOf(w.files[name])})
	}
	if len(blocked) > 0 {
		return p, nil, w.refusal(blocked)
	}
	for _, f := range old.Files {
		switch _, again := w.files[f.Name]; {
		case again:
		case f.Command != w.command || w.plain:
			next.Files = append(next.Files, f)
		case f.unchanged(w.dir) && !w.wasRead(f.Name):
			p.Gone = append(p.Gone, f.Name)
		case exists(filepath.Join(w.dir, filepath.FromSlash(f.Name))):
			left = append(left, f.Name)
		}
	}
	if w.plain {
		return p, left, nil
	}
	slices.SortFunc(next.Files, func(a, b ownFile) int { return strings.Compare(a.Name, b.Name) })
	text, err := json.MarshalIndent(next, "", "  ")
	w.files[recordName] = append(text, '\n')
	p.New = append(p.New, recordName)
	return p, left, err
}

// blocks says why a file may not be put into place; blank where it may.
func (w folderWrite) blocks(name string, old record) string {
	path := filepath.Join(w.dir, filepath.FromSlash(name))
	info, err := os.Lstat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return ""
	}
	i := slices.IndexFunc(old.Files, func(f ownFile) bool { return strings.EqualFold(f.Name, name) })
	switch {
	case err != nil:
		return fmt.Sprintf("%s cannot be looked at", path)
	case !info.Mode().IsRegular():
		return fmt.Sprintf("%s is not a plain file", path)
	case w.plain && w.same(name):
		return ""
	case w.wasRead(name):
		return fmt.Sprintf("%s was read by this very run", path)
	case w.force:
		return ""
	case i < 0 && w.plain:
		return fmt.Sprintf("%s differs from the file that would be written", path)
	case i < 0:
		return fmt.Sprintf("%s was not written by tyro", path)
	case !old.Files[i].unchanged(w.dir):
		return fmt.Sprintf("%s was changed since tyro wrote it", path)
	case old.Files[i].Command != w.command:
		return fmt.Sprintf("%s belongs to a run of %s", path, old.Files[i].Command)
	}
	return ""
}

// refusal names what stands in the way and the way out.
func (w folderWrite) refusal(blocked []string) error {
	const shown = 5
	text := strings.Join(blocked[:min(shown, len(blocked))], "\n")
	if more := len(blocked) - shown; more > 0 {
		text += fmt.Sprintf("\nand %d more files", more)
	}
	way := "choose another folder with --out, or move these files away"
	if w.plain {
		way += "; --force replaces them, and what they hold is lost"
	}
	return fmt.Errorf("nothing was written into %s:\n%s\n%s", w.dir, text, way)
}

func (w folderWrite) same(name string) bool {
	data, err := os.ReadFile(filepath.Join(w.dir, filepath.FromSlash(name)))
	return err == nil && string(data) == string(w.files[name])
}

// wasRead reports whether the file in this place is one that the run has read, by
// whatever name.
func (w folderWrite) wasRead(name string) bool {
	here, err := os.Stat(filepath.Join(w.dir, filepath.FromSlash(name)))
	if err != nil {
		return false
	}
	return slices.ContainsFunc(w.reads, func(path string) bool {
		there, err := os.Stat(path)
		return err == nil && os.SameFile(here, there)
	})
}

// commit writes the files beside their places and moves them there.
func (w folderWrite) commit(ctx context.Context, p change) error {
	stage := filepath.Join(w.dir, stageName)
	if len(p.New)+len(p.Gone) == 0 {
		return nil
	}
	if err := os.Mkdir(stage, 0o700); err != nil {
		return err
	}
	mode, err := fileMode(stage)
	if err != nil {
		return err
	}
	for _, name := range p.New {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := writeNew(staged(w.dir, "new", name), w.files[name]); err != nil {
			return err
		}
	}
	journal, err := json.Marshal(p)
	if err != nil {
		return err
	}
	if err := writeNew(filepath.Join(stage, "journal"), journal); err != nil {
		return err
	}
	for _, name := range p.New {
		if err := keepOld(w.dir, name); err != nil {
			return err
		}
		from, to := staged(w.dir, "new", name), filepath.Join(w.dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			return err
		}
		if err := os.Chmod(from, w.modeOf(name, mode)); err != nil {
			return err
		}
		if err := os.Rename(from, to); err != nil {
			return err
		}
	}
	for _, name := range p.Gone {
		if err := keepOld(w.dir, name); err != nil {
			return err
		}
		if err := os.Remove(filepath.Join(w.dir, filepath.FromSlash(name))); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	// Without its journal the write is done, whatever happens next.
	if err := os.Remove(filepath.Join(stage, "journal")); err != nil {
		return err
	}
	os.RemoveAll(stage) // what is left of it goes with the next run
	return nil
}

// putBack undoes a write that did not come to its end, of this run or a dead one.
func putBack(dir string) error {
	stage := filepath.Join(dir, stageName)
	text, err := os.ReadFile(filepath.Join(stage, "journal"))
	var p change
	if err == nil && json.Unmarshal(text, &p) == nil {
		for _, name := range append(p.New, p.Gone...) {
			if !filepath.IsLocal(filepath.FromSlash(name)) {
				continue
			}
			if err := putBackOne(dir, name, slices.Contains(p.New, name)); err != nil {
				return err
			}
		}
	}
	return os.RemoveAll(stage)
}

func putBackOne(dir, name string, isNew bool) error {
	place := filepath.Join(dir, filepath.FromSlash(name))
	old := staged(dir, "old", name)
	switch {
	case exists(old):
		return os.Rename(old, place)
	case isNew && !exists(staged(dir, "new", name)): // it was moved, and replaced nothing
		if err := os.Remove(place); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}

// keepOld keeps the file in a place until the write is done. A second name for it
// leaves no moment without the file; where a file system has none, it moves.
func keepOld(dir, name string) error {
	place, old := filepath.Join(dir, filepath.FromSlash(name)), staged(dir, "old", name)
	switch info, err := os.Lstat(place); {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case !info.Mode().IsRegular():
		return fmt.Errorf("%s is not a plain file", place)
	}
	if err := os.MkdirAll(filepath.Dir(old), 0o700); err != nil {
		return err
	}
	if os.Link(place, old) == nil {
		return nil
	}
	return os.Rename(place, old)
}

func staged(dir, kind, name string) string {
	return filepath.Join(dir, stageName, kind, filepath.FromSlash(name))
}

// writeNew writes a file that only its owner can read, down to the disk.
func writeNew(path string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Sync(), f.Close())
}

// fileMode is the mode that new files get here: 0644 without what the user's mask
// takes away.
func fileMode(stage string) (fs.FileMode, error) {
	path := filepath.Join(stage, "mode")
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return 0, err
	}
	info, err := f.Stat()
	if err := errors.Join(err, f.Close(), os.Remove(path)); err != nil {
		return 0, err
	}
	return info.Mode().Perm(), nil
}

// modeOf is the mode of a file here, whose group and others lose what is private.
func (w folderWrite) modeOf(name string, usual fs.FileMode) fs.FileMode {
	if slices.Contains(w.private, name) {
		return usual & 0o600
	}
	return usual
}

// makeFolders makes a folder and those above it, and lists the ones it made.
func makeFolders(dir string) ([]string, error) {
	var made []string
	for d := filepath.Clean(dir); !exists(d); d = filepath.Dir(d) {
		made = append(made, d)
	}
	return made, os.MkdirAll(dir, 0o755)
}

// removeEmpty takes away folders that were made for nothing.
func removeEmpty(made []string) {
	for _, d := range made {
		os.Remove(d)
	}
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}

// readRecord reads the folder's record; an empty one where there is none.
func readRecord(dir string) (record, error) {
	var r record
	path := filepath.Join(dir, recordName)
	data, err := os.ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return r, nil
	case err != nil:
		return r, cannotWrite(dir, err)
	}
	if json.Unmarshal(data, &r) != nil || r.Tool != "tyro" {
		return r, fmt.Errorf("nothing was written into %s: its %s is not tyro's list of files; choose another folder with --out", dir, recordName)
	}
	return r, nil
}

// unchanged reports whether the file is still as tyro wrote it.
func (f ownFile) unchanged(dir string) bool {
	if !filepath.IsLocal(filepath.FromSlash(f.Name)) {
		return false
	}
	path := filepath.Join(dir, filepath.FromSlash(f.Name))
	if info, err := os.Lstat(path); err != nil || !info.Mode().IsRegular() {
		return false
	}
	data, err := os.ReadFile(path)
	return err == nil && hashOf(data) == f.SHA256
}

func hashOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// cannotWrite says in plain words why a folder cannot be written.
func cannotWrite(dir string, err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		err = path.Err
	case errors.As(err, &link):
		err = link.Err
	}
	return fmt.Errorf("nothing was written into %s: %w", dir, err)
}

// lockWait is how long a run waits for another one to finish writing.
const lockWait = 30 * time.Second

// lockFolder waits until no other run writes into the folder. The lock ends with the
// process, however it ends.
func lockFolder(ctx context.Context, dir string) (unlock func(), err error) {
	unlock, busy, err := lock(ctx, filepath.Join(dir, lockName))
	switch {
	case busy:
		return nil, fmt.Errorf("nothing was written into %s: another run of tyro is writing there", dir)
	case err != nil && ctx.Err() == nil:
		return nil, cannotWrite(dir, err)
	}
	return unlock, err
}

// lock waits for a lock; busy says that another run kept it.
func lock(ctx context.Context, path string) (unlock func(), busy bool, err error) {
	deadline := time.Now().Add(lockWait)
	for {
		unlock, busy, err := tryLock(path)
		if err != nil || !busy || time.Now().After(deadline) {
			return unlock, busy, err
		}
		select {
		case <-ctx.Done():
			return nil, false, ctx.Err()
		case <-time.After(20 * time.Millisecond):
		}
	}
}
