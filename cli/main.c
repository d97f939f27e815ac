#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include <gsl/gsl_errno.h>

#include "base/complain.h"
#include "base/inputs.h"
#include "base/leftover.h"
#include "base/words.h"
#include "verbs.h"

#define VERB_ADDRESS(NAME) &verb_##NAME,
static const verb *const verbs[] = {VERB_LIST(VERB_ADDRESS)};
#undef VERB_ADDRESS
enum { N_VERBS = sizeof verbs / sizeof verbs[0] };

static void print_help(FILE *out)
{
    fputs("coiltrim: the blower speed for a new indoor coil on an old outdoor unit\n\n"
          "Usage: coiltrim VERB [arguments]\n"
          "       coiltrim help VERB\n"
          "       coiltrim --version\n\nVerbs:\n",
          out);
    for (int i = 0; i < N_VERBS; i++)
        fprintf(out, "  %-14s%s\n", verbs[i]->name, verbs[i]->purpose);
    fputs("\nEvery value has its unit beside it: \"80 F\", 0.5inwc, 350cfm.\n\nExit codes:\n", out);
    exit_codes_print(out);
}

static exit_code unknown_verb(const char *given)
{
    const char *words[N_VERBS];
    for (int i = 0; i < N_VERBS; i++)
        words[i] = verbs[i]->name;
    const char *near = ct_words_nearest(given, words, N_VERBS);
    if (near)
        complain("no verb '%s'; did you mean '%s'?", given, near);
    else
        complain("no verb '%s'; 'coiltrim --help' lists them", given);
    return EXIT_USAGE;
}

static exit_code run_verb(const verb *v, int argc, char **argv)
{
    arguments args;
    switch (arguments_read(v, argc, argv, &args)) {
    case ARGUMENTS_OK: {
        const exit_code code = inputs_check(v, &args);
        return code == EXIT_DONE ? v->run(&args) : code;
    }
    case ARGUMENTS_HELP: verb_help(stdout, v); return EXIT_DONE;
    case ARGUMENTS_WRONG: break;
    }
    return EXIT_USAGE;
}

static const verb *find_verb(const char *name)
{
    for (int i = 0; i < N_VERBS; i++)
        if (strcmp(name, verbs[i]->name) == 0) return verbs[i];
    return NULL;
}

/* "coiltrim help", "coiltrim help sweep". */
static exit_code help(int argc, char **argv)
{
    const verb *v = argc > 0 ? find_verb(argv[0]) : NULL;
    if (argc > 0 && !v) return unknown_verb(argv[0]);
    if (v)
        verb_help(stdout, v);
    else
        print_help(stdout);
    return EXIT_DONE;
}

static exit_code run(int argc, char **argv)
{
    if (argc < 2) {
        print_help(stderr);
        return EXIT_USAGE;
    }
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0) {
        print_help(stdout);
        return EXIT_DONE;
    }
    if (strcmp(argv[1], "help") == 0) return help(argc - 2, argv + 2);
    if (strcmp(argv[1], "--version") == 0 || strcmp(argv[1], "-V") == 0) {
        printf("coiltrim %s\n", COILTRIM_VERSION);
        return EXIT_DONE;
    }
    const verb *v = find_verb(argv[1]);
    return v ? run_verb(v, argc - 2, argv + 2) : unknown_verb(argv[1]);
}

/* A shell can start us with standard input, output or messages closed. The first file opened would
 * then get that number, and reports would end up in it. Read-only, so that writing still fails. */
static void hold_standard_streams(void)
{
    int descriptor;
    do
        descriptor = open("/dev/null", O_RDONLY);
    while (descriptor >= 0 && descriptor <= STDERR_FILENO);
    if (descriptor >= 0) close(descriptor);
}

int main(int argc, char **argv)
{
    hold_standard_streams();
    leftover_watch();
    /* GSL's own handler ends the process; the library checks every return instead. */
    gsl_set_error_handler_off();
    exit_code code = run(argc, argv);
    if (complain_is_incomplete()) code = EXIT_SYSTEM;
    errno = 0;
    if (fflush(stdout) != 0 || ferror(stdout)) {
        complain("standard output: cannot be written: %s",
                 errno ? strerror(errno) : "an earlier write failed");
        code = EXIT_SYSTEM;
    }
    return (int)code;
}
