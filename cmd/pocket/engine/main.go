//go:build !js

package main

import (
	"bufio"
	"context"
	"fmt"
	"os"

	"partsaloft/cmd/internal/answer/question"
)

// longestLine bounds a question on the standard input.
const longestLine = 64 << 20

func main() {
	in, desk := bufio.NewScanner(os.Stdin), question.Desk{}
	in.Buffer(nil, longestLine)
	for in.Scan() {
		if _, err := fmt.Printf("%s\n", desk.AnswerJSON(context.Background(), in.Bytes(), nil, nil, nil)); err != nil {
			os.Exit(1)
		}
	}
	if err := in.Err(); err != nil {
		fmt.Fprintln(os.Stderr, "engine:", err)
		os.Exit(1)
	}
}
