package console

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"shothand/bot/chat"
)

// picturesLast is how long a picture stays in the folder: it can be asked for
// again at any time.
const picturesLast = 7 * 24 * time.Hour

// keep writes the files of a post, and says where they are.
func (c *Console) keep(files []chat.File) ([]fileOut, error) {
	if len(files) == 0 {
		return nil, nil
	}
	all, err := c.keepAll(files)
	if err != nil {
		return nil, fmt.Errorf("keep files of a post: %w", err)
	}
	return all, nil
}

func (c *Console) keepAll(files []chat.File) ([]fileOut, error) {
	if c.o.FilesDir == "" {
		return nil, errors.New("no directory was given")
	}
	if err := os.MkdirAll(c.o.FilesDir, 0o700); err != nil {
		return nil, err
	}
	last, err := clearOld(c.o.FilesDir, c.now().Add(-picturesLast))
	if err != nil {
		return nil, err
	}
	var all []fileOut
	for i, f := range files {
		path := filepath.Join(c.o.FilesDir, fmt.Sprintf("%d-%s", last+1+i, fileName(f.Name)))
		if err := writeNew(path, f.Data); err != nil {
			return nil, err
		}
		all = append(all, fileOut{Name: clean(f.Name), Path: path})
	}
	return all, nil
}

// writeNew writes a file where there is none.
func writeNew(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Close())
}

// clearOld takes away the pictures of a folder that were made before a time,
// and returns the highest number that a file there has. What a console did not
// name, and tables that were asked for, it leaves.
func clearOld(dir string, before time.Time) (last int, err error) {
	entries, err := os.ReadDir(dir)
	for _, e := range entries {
		number, name, ok := strings.Cut(e.Name(), "-")
		n, bad := strconv.Atoi(number)
		if !ok || bad != nil || n < 1 {
			continue
		}
		last = max(last, n)
		if info, gone := e.Info(); filepath.Ext(name) == ".png" && gone == nil &&
			info.Mode().IsRegular() && info.ModTime().Before(before) {
			err = cmp.Or(err, os.Remove(filepath.Join(dir, e.Name())))
		}
	}
	return last, err
}

// fileName makes of name one that is safe on any disk; its end is kept, for
// the sake of the extension.
func fileName(name string) string {
	safe := strings.Map(func(r rune) rune {
		switch {
		case 'a' <= r && r <= 'z', 'A' <= r && r <= 'Z', '0' <= r && r <= '9', r == '.', r == '-', r == '_':
			return r
		}
		return '-'
	}, name)
	return safe[max(0, len(safe)-maxName):]
}

// shortPath returns path as it is, or from the directory one stands in, if
// that is shorter.
func shortPath(path string) string {
	here, err := os.Getwd()
	if err != nil {
		return path
	}
	if rel, err := filepath.Rel(here, path); err == nil && filepath.IsAbs(path) && len(rel) < len(path) {
		return rel
	}
	return path
}
