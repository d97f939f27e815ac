/* Exit codes: what the shell learns. One list makes the codes and what the help says of them; the
 * manual page and the README are checked against the help (tests/docs.sh). */
#ifndef CLI_BASE_EXIT_CODES_H
#define CLI_BASE_EXIT_CODES_H

#include <stdio.h>

/* clang-format off */
#define EXIT_CODE_LIST(X)                                                                          \
    X(EXIT_DONE,     0, "done")                                                                    \
    X(EXIT_USAGE,    2, "the command line is wrong: verb, option, number or unit")                 \
    X(EXIT_INPUT,    3, "the input is wrong: case file, readings, values that contradict each "    \
                        "other")                                                                   \
    X(EXIT_MODEL,    4, "outside the range of the model, or no balance found")                     \
    X(EXIT_SYSTEM,   5, "a file, memory or another program failed")                                \
    X(EXIT_NO_PICK, 10, "done and written, and the answer is no: no speed passes, or a unit does " \
                        "not fit")                                                                 \
    X(EXIT_DOUBT,   11, "done and written, but the readings do not fit together")
/* clang-format on */

#define EXIT_CODE_ENUM(NAME, CODE, MEANS) NAME = CODE,
typedef enum { EXIT_CODE_LIST(EXIT_CODE_ENUM) } exit_code;
#undef EXIT_CODE_ENUM

/* A line for each code: number and meaning. */
void exit_codes_print(FILE *out);

#endif
