/* Running a program from a test: a scratch folder, arguments in, output, messages and exit code
 * out. No shell is involved. */
#ifndef PROGRAM_H
#define PROGRAM_H

#include <fcntl.h>
#include <spawn.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "check.h"

extern char **environ;

enum { PROGRAM_MAX_ARGS = 14 };

static char program_scratch[] = "/tmp/coiltrim-test-XXXXXX";

typedef struct {
    int code;
    char out[400000], err[20000];
} program_result;

static inline const char *program_path(const char *name)
{
    static char path[8][256];
    static int next;
    next = (next + 1) % 8;
    snprintf(path[next], sizeof path[next], "%s/%s", program_scratch, name);
    return path[next];
}

/* A missing file is an empty text. False when it did not fit. */
static inline bool program_read(const char *path, char *text, size_t size)
{
    FILE *file = fopen(path, "rb");
    size_t n = 0;
    if (file) {
        n = fread(text, 1, size - 1, file);
        fclose(file);
    }
    text[n] = '\0';
    return n < size - 1;
}

static inline void program_write(const char *path, const char *text)
{
    FILE *file = fopen(path, "wb");
    check_that(path, file != NULL);
    fputs(text, file);
    check_is(path, fclose(file), ==, 0);
}

static inline bool program_is_there(const char *path)
{
    struct stat there;
    return lstat(path, &there) == 0;
}

static inline int program_spawn(const char *program, const char *const *args, const char *out,
                                const char *err, char **environment)
{
    char *argv[PROGRAM_MAX_ARGS + 2] = {strdup(program)};
    int n = 1;
    for (; n <= PROGRAM_MAX_ARGS && args[n - 1]; n++)
        argv[n] = strdup(args[n - 1]);
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, 1, out, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    posix_spawn_file_actions_addopen(&actions, 2, err, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    pid_t pid;
    int state = 0;
    check_that("the program starts",
               posix_spawnp(&pid, program, &actions, NULL, argv, environment) == 0);
    check_is("the program ends", waitpid(pid, &state, 0), ==, pid);
    check_that("the program ends", WIFEXITED(state));
    posix_spawn_file_actions_destroy(&actions);
    for (int i = 0; i < n; i++)
        free(argv[i]);
    return WEXITSTATUS(state);
}

static inline void program_run(const char *const *args, char **environment, program_result *r)
{
    const char *out = program_path("out"), *err = program_path("err");
    r->code = program_spawn(PROGRAM, args, out, err, environment);
    check_that("output fits", program_read(out, r->out, sizeof r->out));
    check_that("messages fit", program_read(err, r->err, sizeof r->err));
}

/* `part` must be in `text`; NULL: the text must be empty. */
static inline void program_expect(const char *name, const char *text, const char *part)
{
    const bool good = part ? strstr(text, part) != NULL : text[0] == '\0';
    if (!good) print_error("%s: wanted: %s\ngot: %.2000s\n", name, part ? part : "(nothing)", text);
    check_that(name, good);
}

/* A run and what must come of it. */
typedef struct {
    const char *name;
    const char *args[PROGRAM_MAX_ARGS];
    int code;
    const char *out, *err; /* must be in it; NULL: must be empty */
} program_row;

static inline void program_check_rows(const program_row *rows, size_t n)
{
    static program_result r;
    for (size_t i = 0; i < n; i++) {
        program_run(rows[i].args, environ, &r);
        program_expect(rows[i].name, r.out, rows[i].out);
        program_expect(rows[i].name, r.err, rows[i].err);
        check_abs(rows[i].name, r.code, rows[i].code, 0);
    }
}

static inline int program_make_scratch(void **state)
{
    (void)state;
    return mkdtemp(program_scratch) ? 0 : -1;
}

static inline int program_clear_scratch(void **state)
{
    (void)state;
    const char *const args[] = {"-rf", program_scratch, NULL};
    return program_spawn("rm", args, "/dev/null", "/dev/null", environ);
}

static inline int common_divisor(int a, int b)
{
    return b ? common_divisor(b, a % b) : a;
}

/* Steps that visit all of 0..n-1, the first few already far apart: about the golden section. */
static inline int stride_of(int n)
{
    int stride = (int)(0.6180339887 * n) + 1;
    while (common_divisor(n, stride) != 1)
        stride++;
    return stride;
}

#endif
