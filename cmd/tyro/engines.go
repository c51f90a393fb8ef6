package main

import (
	"bytes"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"text/template"

	"tyro/analysis/shard"
	"tyro/reports"
)

// The scripts that do shards on Slurm, GNU parallel and Kubernetes, as templates.
//
//go:embed engines/*
var engineTemplates embed.FS

// mostPods is how many pods of the Kubernetes job run at a time, unless that is changed.
const mostPods = 50

// A scripting is what the scripts are filled with; texts are as a shell takes them.
type scripting struct {
	Here                   string // the folder from which all is run
	Folder, Parts, Logs    string
	Flags, Args            string
	Shards, Tasks, PerTask int
	Digits                 int
	Parallel               int
	Version                string
	IndexedTask, HereYAML  string // as YAML takes them
}

// writeEngines writes the scripts of a run into a folder.
func (a app) writeEngines(run shard.Run, f shardFlags) error {
	s, err := newScripting(run, f)
	if err != nil {
		return err
	}
	files, err := s.files()
	if err != nil {
		return err
	}
	if err := a.writeFiles("slurm", f.engines, files); err != nil {
		return err
	}
	fmt.Fprintf(a.talk(), "nothing was started: sh %s submits %d tasks to Slurm and the merge after them\n", quotedForShell(filepath.Join(f.engines, "submit.sh")), s.Tasks)
	return nil
}

func newScripting(run shard.Run, f shardFlags) (scripting, error) {
	here, err := os.Getwd()
	if err != nil {
		return scripting{}, err
	}
	folder, err := filepath.Abs(f.engines)
	if err != nil {
		return scripting{}, err
	}
	if strings.ContainsAny(here+folder, "\r\n") {
		return scripting{}, errors.New("the scripts cannot be written for a folder whose name has a line break")
	}
	split := slices.Index(run.Words, "--")
	per := (f.shards + f.arrayLimit - 1) / f.arrayLimit
	parts := filepath.Join(folder, "parts")
	s := scripting{
		Here: quotedForShell(here), Folder: quotedForShell(folder), Parts: quotedForShell(parts), Logs: quotedForShell(filepath.Join(folder, "logs")),
		Flags: shellWords(run.Words[:split]), Args: shellWords(run.Words[split+1:]),
		Shards: f.shards, PerTask: per, Tasks: (f.shards + per - 1) / per, Digits: len(strconv.Itoa(f.shards)), Version: reports.Version,
	}
	s.Parallel = min(s.Tasks, mostPods)
	s.IndexedTask = asYAML("exec sh " + quotedForShell(filepath.Join(folder, "shard.sh")) + ` "$((JOB_COMPLETION_INDEX + 1))"`)
	s.HereYAML = asYAML(here)
	return s, nil
}

// asYAML is a text that YAML reads as such: JSON is YAML.
func asYAML(text string) string {
	b, _ := json.Marshal(text) // a text always can be
	return string(b)
}

// files are the scripts by name.
func (s scripting) files() (map[string][]byte, error) {
	all, err := template.ParseFS(engineTemplates, "engines/*")
	if err != nil {
		return nil, err
	}
	out := map[string][]byte{}
	for _, t := range all.Templates() {
		var b bytes.Buffer
		if err := t.Execute(&b, s); err != nil {
			return nil, err
		}
		out[t.Name()] = b.Bytes()
	}
	return out, nil
}
