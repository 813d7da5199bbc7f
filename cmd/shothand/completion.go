package main

import (
	"errors"
	"io"

	"github.com/spf13/cobra"
)

// completion prints what makes a shell complete commands and options.
func (p program) completion(root *cobra.Command) *cobra.Command {
	c := command("completion SHELL", completionHelp)
	c.ValidArgs = []string{"bash", "zsh", "fish"}
	return runs(c, 1, func(args []string) error {
		switch first(args) {
		case "bash":
			if _, err := io.WriteString(p.out, bashWords); err != nil {
				return err
			}
			return root.GenBashCompletionV2(p.out, true)
		case "zsh":
			return root.GenZshCompletion(p.out)
		case "fish":
			return root.GenFishCompletion(p.out, true)
		}
		return errors.New(whichShellText(first(args)))
	})
}

// bashWords stands in for the one function that the library's script takes from
// the package bash-completion, where a machine has no such package: it joins
// again what bash breaks at = and :, up to the cursor.
const bashWords = `if ! declare -F _get_comp_words_by_ref >/dev/null; then
    _get_comp_words_by_ref()
    {
        local i last=-1
        words=()
        cword=0
        for ((i = 0; i < ${#COMP_WORDS[@]}; i++)); do
            if ((i > 1)) && [[ ${COMP_WORDS[i]} == [=:]* || ${COMP_WORDS[i-1]} == *[=:] ]]; then
                words[last]+=${COMP_WORDS[i]}
            else
                words[++last]=${COMP_WORDS[i]}
            fi
            ((i == COMP_CWORD)) && cword=$last
        done
        cur=${words[cword]}
        prev=
        ((cword > 0)) && prev=${words[cword-1]}
        return 0
    }
fi

`
