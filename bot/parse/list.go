package parse

// A Listed is a command that there is, with the names of its options.
type Listed struct {
	Name    string
	Options []string
}

// Commands lists the commands.
func Commands() []Listed {
	var list []Listed
	for _, s := range specs() {
		list = append(list, Listed{s.name, s.options})
	}
	return list
}
