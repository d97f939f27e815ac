/* Exit codes: what the shell learns. One list feeds the program and its help. */
#ifndef CLI_BASE_EXIT_CODES_H
#define CLI_BASE_EXIT_CODES_H

typedef enum {
    EXIT_DONE = 0,     /* all done */
    EXIT_USAGE = 2,    /* the command line is wrong: verb, option, number or unit */
    EXIT_INPUT = 3,    /* what was given is wrong: case file, readings, contradicting pair */
    EXIT_MODEL = 4,    /* outside the model's range, or no balance was found */
    EXIT_SYSTEM = 5,   /* a file, memory or another program failed */
    EXIT_NO_PICK = 10, /* done and written, but no: no speed passes, or a unit does not fit */
    EXIT_DOUBT = 11    /* done and written, but the readings do not fit together */
} exit_code;

#endif
