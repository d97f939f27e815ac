/* A long run on a terminal says after a second that it is alive, and leaves a clean line; a log
 * file gets none of it. A pseudo-terminal is the terminal; the case is one of the examples, and all
 * data in it are invented. */
#include "check.h"

#include <poll.h>
#include <pty.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "base/clock.h"
#include "program.h"

enum { WAIT_MS = 60000, SEEN_SIZE = 20000 };

static const char *const draws[] = {"300", "3000", "30000", "100000"};

#define CASE SOURCE_DIR "/examples/r22-larger-coil.yaml"
#define SIGN "\rdrawing cases: "
#define CLEAR "\r\033[K" /* to the left edge, and the line erased: ECMA-48 */

/* Standard error alone is the terminal; the answer goes where the test finds it. */
static void spawn(const char *n, int *terminal, pid_t *pid)
{
    int other;
    check_is("a terminal", openpty(terminal, &other, NULL, NULL, NULL), ==, 0);
    *pid = fork();
    check_is("a child", *pid, >=, 0);
    if (*pid == 0) {
        const int out = open(program_path("out"), O_WRONLY | O_CREAT | O_TRUNC, 0600);
        if (out >= 0 && dup2(out, STDOUT_FILENO) >= 0 && dup2(other, STDERR_FILENO) >= 0) {
            close(*terminal);
            execl(PROGRAM, PROGRAM, "sweep", CASE, "--uncertain", n, (char *)NULL);
        }
        _exit(127);
    }
    close(other);
}

/* All that came to the terminal, and when the first of it did. */
static void listen_to(int terminal, double start, char seen[SEEN_SIZE], double *first)
{
    size_t n = 0;
    *first = NAN;
    for (;;) {
        struct pollfd p = {.fd = terminal, .events = POLLIN};
        if (poll(&p, 1, WAIT_MS) <= 0 || n + 1 >= SEEN_SIZE) break;
        const ssize_t got = read(terminal, seen + n, SEEN_SIZE - n - 1);
        if (got <= 0) break; /* EIO: the other side is closed */
        if (n == 0) *first = clock_seconds() - start;
        n += (size_t)got;
    }
    seen[n] = '\0';
    close(terminal);
}

static int end_of(pid_t pid)
{
    int state = 0;
    check_is("it ends", waitpid(pid, &state, 0), ==, pid);
    check_that("it ends", WIFEXITED(state));
    return WEXITSTATUS(state);
}

/* Each sign writes over the one before, and the last is erased: nothing of it is left to read. */
static void check_clean(const char *seen)
{
    const char *last = strrchr(seen, '\r');
    check_that("begins where it writes over", strncmp(seen, SIGN, strlen(SIGN)) == 0);
    check_lacks("one line", seen, "\n");
    check_same_text("ends with a clean line", last, CLEAR);
}

static void test_terminal(void **state)
{
    (void)state;
    static char seen[SEEN_SIZE], out[400000];
    double first = NAN;
    /* A machine that is done within a second has nothing to say yet. */
    for (size_t i = 0; i < sizeof draws / sizeof draws[0] && isnan(first); i++) {
        int terminal;
        pid_t pid;
        const double start = clock_seconds(); /* before: a busy machine only makes it later */
        spawn(draws[i], &terminal, &pid);
        listen_to(terminal, start, seen, &first);
        check_is("done", end_of(pid), ==, 0);
    }
    check_has("a second", seen, SIGN "1 s");
    check_is("not sooner", first, >=, 1.0);
    check_clean(seen);
    check_that("the answer fits", program_read(program_path("out"), out, sizeof out));
    check_has("the answer is whole", out, "How sure: ");
    check_lacks("and has no sign of it", out, "drawing cases");
}

static void test_no_terminal(void **state)
{
    (void)state;
    static program_result r;
    program_run((const char *const[]){"sweep", CASE, "--uncertain", draws[0], NULL}, environ, &r);
    check_is("done", r.code, ==, 0);
    check_same_text("nothing", r.err, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_terminal),
        cmocka_unit_test(test_no_terminal),
    };
    return cmocka_run_group_tests(tests, program_make_scratch, program_clear_scratch);
}
