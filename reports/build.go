package reports

import (
	"runtime"
	"runtime/debug"
)

// A Build says which program made a result.
type Build struct {
	Version  string `json:"version"`
	Commit   string `json:"commit"`   // blank where it was not built from a repository
	Modified bool   `json:"modified"` // the source was changed since the commit
	Go       string `json:"go"`
	OS       string `json:"os"`
	Arch     string `json:"arch"`
}

// ThisBuild is the program that is running, as its linker wrote it down.
func ThisBuild() Build {
	b := Build{Version: Version, Go: runtime.Version(), OS: runtime.GOOS, Arch: runtime.GOARCH}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return b
	}
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			b.Commit = s.Value
		case "vcs.modified":
			b.Modified = s.Value == "true"
		}
	}
	return b
}

// CommitText is the commit for people.
func (b Build) CommitText() string {
	switch {
	case b.Commit == "":
		return "not known (not built from a repository)"
	case b.Modified:
		return b.Commit + ", with changes since"
	}
	return b.Commit
}
