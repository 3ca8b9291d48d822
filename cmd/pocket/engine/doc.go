// Engine is the part of the pocket page that computes: it runs in a worker of a browser and answers the questions of
// cmd/internal/answer/question by messages. On a machine it answers the same questions from the standard input, one
// a line.
//
// To the worker:
//
//	{engine: text or module}       first of all: the engine as the page has it, or as it was compiled before
//	{id, ask, name, drawer, style, styles, learned, options, attached}
//	                               a question under a number of the asker's; see question.Question. attached is an
//	                               ArrayBuffer, or a Blob that is read piece by piece
//	{stop: id}                     ends it
//
// From the worker:
//
//	{ready: true, version, questions, module}
//	                               once; module is the engine compiled, to start another worker with
//	{id, progress: {share}}        share of the work done, from 0 to 1, some ten times a second
//	{id, document, text, memory}   the answer; text where the question makes a file. memory is the bytes that the
//	                               engine holds, which never become fewer
//	{id, fault: {kind, text, faults}, memory}
//	                               no answer; kind is ask, drawer, stopped or other
//
// An engine that does not start, or ends, is an error event of the worker: start another. Questions are answered one
// after the other. A question that was stopped ends with its best so far where it can, else with a fault of kind
// stopped; what does not end in time is ended by terminating the worker.
package main
