#include "base/gnuplot.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/complain.h"
#include "base/leftover.h"
#include "base/utf8.h"

extern char **environ;

static int count_characters(const char *text)
{
    int n = 0;
    while (*text) {
        const int length = utf8_length(text);
        n++;
        text += length ? length : 1;
    }
    return n;
}

/* An apostrophe goes in as an escape between two single-quoted pieces. Doubled, it is understood
 * only after another character (gnuplot 5.4, scanner.c); spelled as "'" it would make gnuplot count
 * the rest as outside quotes, where @ names a macro (string_expand_macros). */
void gnuplot_quote(FILE *out, const char *text, int max_characters)
{
    const bool cut = max_characters > 0 && count_characters(text) > max_characters;
    int left = cut ? max_characters - 1 : -1;
    fputc('\'', out);
    while (*text && left-- != 0) {
        const int length = utf8_length(text);
        if (length == 0)
            fputc('?', out);
        else if (utf8_is_control(text, length))
            fputc(' ', out);
        else if (*text == '\'')
            fputs("'.\"\\047\".'", out);
        else if (length == 1)
            fputc(*text, out);
        else
            fwrite(text, 1, (size_t)length, out);
        text += length ? length : 1;
    }
    fputs(cut ? "\xe2\x80\xa6'" : "'", out);
}

/* Our environment, but with letters in UTF-8 whatever the user's locale: without one gnuplot cannot
 * write a degree sign. C.UTF-8 is there on every Debian. LC_ALL would win over LC_CTYPE, so it
 * goes. The strings stay environ's; the list is the caller's to free. NULL: no memory. */
static char **utf8_environment(void)
{
    static char letters[] = "LC_CTYPE=C.UTF-8";
    size_t n = 0, kept = 0;
    while (environ && environ[n])
        n++;
    char **list = malloc((n + 2) * sizeof *list);
    if (!list) return NULL;
    for (size_t i = 0; i < n; i++)
        if (strncmp(environ[i], "LC_ALL=", 7) != 0 && strncmp(environ[i], "LC_CTYPE=", 9) != 0)
            list[kept++] = environ[i];
    list[kept++] = letters;
    list[kept] = NULL;
    return list;
}

/* In a group of processes of its own, so that all of it can be ended; it has nothing to ask. */
static int spawn(char **argv, char **environment, const int wire[2], pid_t *pid)
{
    posix_spawn_file_actions_t actions;
    posix_spawnattr_t settings;
    int error = posix_spawn_file_actions_init(&actions);
    if (error) return error;
    error = posix_spawnattr_init(&settings);
    if (!error) {
        error = posix_spawnattr_setflags(&settings, POSIX_SPAWN_SETPGROUP);
        if (!error) error = posix_spawnattr_setpgroup(&settings, 0);
        if (!error)
            error =
                posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
        if (!error) error = posix_spawn_file_actions_adddup2(&actions, wire[1], STDERR_FILENO);
        if (!error) error = posix_spawn_file_actions_addclose(&actions, wire[0]);
        if (!error) error = posix_spawnp(pid, argv[0], &actions, &settings, argv, environment);
        posix_spawnattr_destroy(&settings);
    }
    posix_spawn_file_actions_destroy(&actions);
    return error;
}

/* What one process is to draw. */
typedef struct {
    const char *const *script;
    int n; /* at most GNUPLOT_SCRIPTS */
    const char *format;
} drawing;

/* A name that begins with a dash must not look like an option. */
static char *safe_path(const char *script)
{
    char *path = NULL;
    return asprintf(&path, "%s%s", script[0] == '-' ? "./" : "", script) < 0 ? NULL : path;
}

/* Each script begins as if alone: between two, what the first has set is forgotten. -d: the user's
 * own start-up file stays out, so that the picture is the same everywhere. */
static void list_words(const drawing *d, char **path, char *setting, char **to)
{
    static char name[] = "gnuplot", defaults[] = "-d", dash_e[] = "-e", reset[] = "reset session";
    *to++ = name;
    *to++ = defaults;
    for (int i = 0; i < d->n; i++) {
        if (i > 0) {
            *to++ = dash_e;
            *to++ = reset;
        }
        *to++ = dash_e;
        *to++ = setting;
        *to++ = path[i];
    }
    *to = NULL;
}

/* Starts gnuplot with its standard error into `wire`. Returns 0 or the error number. */
static int start(const drawing *d, const int wire[2], pid_t *pid)
{
    char setting[32], *path[GNUPLOT_SCRIPTS], *words[3 + 5 * GNUPLOT_SCRIPTS];
    char **environment = utf8_environment();
    int error = environment ? 0 : ENOMEM;
    snprintf(setting, sizeof setting, "format='%s'", d->format);
    for (int i = 0; i < d->n; i++) {
        path[i] = safe_path(d->script[i]);
        if (!path[i]) error = ENOMEM;
    }
    list_words(d, path, setting, words);
    if (!error) error = spawn(words, environment, wire, pid);
    for (int i = 0; i < d->n; i++)
        free(path[i]);
    free(environment);
    return error;
}

/* ---- Waiting ---------------------------------------------------------------------- */

/* A gnuplot that runs. */
typedef struct {
    pid_t pid;
    int wire; /* its standard error, -1 once it is closed */
    bool ended;
    int state; /* as waitpid gives it */
    char said[2048];
    size_t kept;
} child;

static int seconds_allowed(void)
{
    enum { USUAL = 60, MOST = 3600 };
    const char *text = getenv("COILTRIM_GNUPLOT_SECONDS");
    char *end = NULL;
    const long n = text ? strtol(text, &end, 10) : 0;
    if (!text || !text[0]) return USUAL;
    if (!*end && n >= 1 && n <= MOST) return (int)n;
    complain("COILTRIM_GNUPLOT_SECONDS: '%s' given, allowed is a whole number from 1 to %d; taking "
             "%d",
             text, MOST, USUAL);
    return USUAL;
}

/* Waits a moment for words and reads them, keeping what fits: a full pipe would stop gnuplot. */
static void listen(child *c, int milliseconds)
{
    char block[512];
    struct pollfd wire = {.fd = c->wire, .events = POLLIN};
    if (poll(&wire, 1, c->wire < 0 && milliseconds > 2 ? 2 : milliseconds) <= 0) return;
    const ssize_t n = read(c->wire, block, sizeof block);
    if (n < 0 && errno == EINTR) return;
    if (n <= 0) {
        close(c->wire);
        c->wire = -1;
        return;
    }
    const size_t room = sizeof c->said - 1 - c->kept, take = (size_t)n < room ? (size_t)n : room;
    memcpy(c->said + c->kept, block, take);
    c->kept += take;
}

/* Until it has ended and said all. One that does not end, or leaves a process behind that keeps its
 * standard error open, is ended with all its group. False: it was too late. */
static bool wait_for(child *c, int seconds)
{
    const double grace = 0.3, until = clock_seconds() + seconds;
    double ended_at = 0;
    bool late = false;
    while (!late && !(c->ended && (c->wire < 0 || clock_seconds() > ended_at + grace))) {
        listen(c, 50);
        if (!c->ended && waitpid(c->pid, &c->state, WNOHANG) == c->pid) {
            c->ended = true;
            ended_at = clock_seconds();
        }
        late = !c->ended && clock_seconds() > until;
    }
    if (c->wire >= 0 || !c->ended) kill(-c->pid, SIGKILL);
    while (!c->ended && waitpid(c->pid, &c->state, 0) < 0 && errno == EINTR)
        continue;
    if (c->wire >= 0) close(c->wire);
    while (c->kept > 0 && (c->said[c->kept - 1] == '\n' || c->said[c->kept - 1] == ' '))
        c->kept--;
    c->said[c->kept] = '\0';
    return !late;
}

static gnuplot_result judge(const char *script, const child *c)
{
    const bool ended = c->ended && WIFEXITED(c->state);
    if (ended && WEXITSTATUS(c->state) == 0) {
        if (c->said[0]) complain("%s: gnuplot drew it, but said: %s", script, c->said);
        return GNUPLOT_DONE;
    }
    /* POSIX lets posix_spawn succeed and the child end with 127 when there is nothing to run. */
    if (ended && WEXITSTATUS(c->state) == 127 && !c->said[0]) return GNUPLOT_ABSENT;
    complain("%s: gnuplot failed: %s", script, c->said[0] ? c->said : "it gave no reason");
    return GNUPLOT_FAILED;
}

static gnuplot_result cannot_run(const char *script, int error)
{
    complain("%s: gnuplot cannot be run: %s", script, strerror(error));
    if (error == ENOMEM) complain_incomplete();
    return GNUPLOT_FAILED;
}

/* Runs it to its end; `c` keeps what it said. GNUPLOT_DONE: it ended in time, well or not. */
static gnuplot_result run(const drawing *d, child *c)
{
    int wire[2];
    const int seconds = seconds_allowed();
    *c = (child){0};
    if (pipe2(wire, O_CLOEXEC) != 0) return cannot_run(d->script[0], errno);
    const int error = start(d, wire, &c->pid);
    close(wire[1]);
    c->wire = wire[0];
    if (error) {
        close(wire[0]);
        return error == ENOENT ? GNUPLOT_ABSENT : cannot_run(d->script[0], error);
    }
    leftover_group(c->pid);
    const bool in_time = wait_for(c, seconds);
    leftover_group(0);
    if (in_time) return GNUPLOT_DONE;
    complain("%s: gnuplot had not ended after %d s and was stopped; COILTRIM_GNUPLOT_SECONDS=%d "
             "gives it longer",
             d->script[0], seconds, 5 * seconds);
    return GNUPLOT_FAILED;
}

gnuplot_result gnuplot_try(const char *script, const char *format)
{
    const drawing one = {&script, 1, format};
    child c;
    const gnuplot_result result = run(&one, &c);
    return result == GNUPLOT_DONE ? judge(script, &c) : result;
}

/* What a whole picture of each format ends with. gnuplot (5.4) reports success on a full disk. */
static bool is_whole(const char *path, const char *format)
{
    const char *mark = strcmp(format, "png") == 0   ? "IEND"
                       : strcmp(format, "svg") == 0 ? "</svg>"
                                                    : "%%EOF";
    char tail[64];
    FILE *file = fopen(path, "rb");
    if (!file) return false;
    const bool sought = fseek(file, -16, SEEK_END) == 0;
    const size_t n = sought ? fread(tail, 1, sizeof tail, file) : 0;
    fclose(file);
    return memmem(tail, n, mark, strlen(mark)) != NULL;
}

/* The picture a script draws beside itself, to be freed; NULL: no memory. */
static char *picture_of(const char *script, const char *format)
{
    char *picture = NULL;
    const size_t stem = strlen(script) - strlen(".gp");
    return asprintf(&picture, "%.*s.%s", (int)stem, script, format) < 0 ? NULL : picture;
}

/* Half a picture is worse than none. */
static gnuplot_result check_picture(const char *script, const char *format)
{
    char *picture = picture_of(script, format);
    if (!picture) return GNUPLOT_FAILED;
    const bool whole = is_whole(picture, format);
    if (!whole) {
        unlink(picture);
        complain("%s: gnuplot left no whole picture; is there room on the disk?", picture);
    }
    free(picture);
    return whole ? GNUPLOT_DONE : GNUPLOT_FAILED;
}

gnuplot_result gnuplot_run(const char *script, const char *format)
{
    const gnuplot_result result = gnuplot_try(script, format);
    if (result == GNUPLOT_ABSENT)
        complain("gnuplot is not installed: no picture from %s; install it and run: gnuplot %s",
                 script, script);
    return result == GNUPLOT_DONE ? check_picture(script, format) : result;
}

/* What a run that was stopped has left half done. */
static void drop_halves(const drawing *d)
{
    for (int i = 0; i < d->n; i++) {
        char *picture = picture_of(d->script[i], d->format);
        if (picture && !is_whole(picture, d->format)) unlink(picture);
        free(picture);
    }
}

/* Without a word, or not at all: then each script shows for itself what is wrong. */
gnuplot_result gnuplot_run_together(const char *const *script, int n, const char *format)
{
    const drawing all = {script, n, format};
    child c;
    if (n < 2 || n > GNUPLOT_SCRIPTS) return GNUPLOT_ALONE;
    gnuplot_result result = run(&all, &c);
    if (result == GNUPLOT_FAILED) drop_halves(&all);
    if (result != GNUPLOT_DONE) return result == GNUPLOT_ABSENT ? GNUPLOT_ALONE : result;
    if (c.said[0] || !WIFEXITED(c.state) || WEXITSTATUS(c.state) != 0) return GNUPLOT_ALONE;
    for (int i = 0; i < n; i++)
        if (check_picture(script[i], format) != GNUPLOT_DONE) result = GNUPLOT_FAILED;
    return result;
}
