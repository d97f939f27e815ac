#include "base/gnuplot.h"

#include <errno.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/complain.h"
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
        else
            fwrite(text, 1, (size_t)length, out);
        text += length ? length : 1;
    }
    fputs(cut ? "\xe2\x80\xa6'" : "'", out);
}

/* Our environment, but with letters in UTF-8 whatever the user's locale: without one gnuplot cannot
 * write a degree sign. C.UTF-8 is there on every Debian. LC_ALL would win over LC_CTYPE, so it goes.
 * The strings stay environ's; the list is the caller's to free. NULL: no memory. */
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

/* Starts gnuplot with its standard error into `wire`. Returns 0 or the error number. */
static int start(const char *script, const char *format, const int wire[2], pid_t *pid)
{
    char setting[32], name[] = "gnuplot", defaults[] = "-d", dash_e[] = "-e";
    char *path = NULL;
    char **environment = utf8_environment();
    /* A name that begins with a dash must not look like an option. -d: the user's own start-up file
     * stays out, so that the picture is the same everywhere. */
    if (!environment || asprintf(&path, "%s%s", script[0] == '-' ? "./" : "", script) < 0) {
        free(environment);
        return ENOMEM;
    }
    snprintf(setting, sizeof setting, "format='%s'", format);
    char *argv[] = {name, defaults, dash_e, setting, path, NULL};
    posix_spawn_file_actions_t actions;
    int error = posix_spawn_file_actions_init(&actions);
    if (!error) {
        error = posix_spawn_file_actions_adddup2(&actions, wire[1], STDERR_FILENO);
        if (!error) error = posix_spawn_file_actions_addclose(&actions, wire[0]);
        if (!error) error = posix_spawnp(pid, "gnuplot", &actions, NULL, argv, environment);
        posix_spawn_file_actions_destroy(&actions);
    }
    free(path);
    free(environment);
    return error;
}

/* Reads all there is, keeping what fits: a full pipe would stop gnuplot. */
static void drain(int descriptor, char *said, size_t size)
{
    size_t kept = 0;
    char block[512];
    for (;;) {
        const ssize_t n = read(descriptor, block, sizeof block);
        if (n < 0 && errno == EINTR) continue;
        if (n <= 0) break;
        const size_t room = size - 1 - kept, take = (size_t)n < room ? (size_t)n : room;
        memcpy(said + kept, block, take);
        kept += take;
    }
    while (kept > 0 && (said[kept - 1] == '\n' || said[kept - 1] == ' '))
        kept--;
    said[kept] = '\0';
}

static gnuplot_result judge(const char *script, pid_t pid, const char *said)
{
    int state = 0;
    pid_t ended;
    do
        ended = waitpid(pid, &state, 0);
    while (ended < 0 && errno == EINTR);
    if (ended == pid && WIFEXITED(state) && WEXITSTATUS(state) == 0) {
        if (said[0]) complain("%s: gnuplot drew it, but said: %s", script, said);
        return GNUPLOT_DONE;
    }
    /* POSIX lets posix_spawn succeed and the child end with 127 when there is nothing to run. */
    if (ended == pid && WIFEXITED(state) && WEXITSTATUS(state) == 127 && !said[0])
        return GNUPLOT_ABSENT;
    complain("%s: gnuplot failed: %s", script, said[0] ? said : "it gave no reason");
    return GNUPLOT_FAILED;
}

gnuplot_result gnuplot_try(const char *script, const char *format)
{
    int wire[2];
    pid_t pid;
    char said[2048];
    if (pipe(wire) != 0) {
        complain("%s: gnuplot cannot be run: %s", script, strerror(errno));
        return GNUPLOT_FAILED;
    }
    const int error = start(script, format, wire, &pid);
    close(wire[1]);
    if (!error) drain(wire[0], said, sizeof said);
    close(wire[0]);
    if (!error) return judge(script, pid, said);
    if (error != ENOENT) {
        complain("%s: gnuplot cannot be run: %s", script, strerror(error));
        return GNUPLOT_FAILED;
    }
    return GNUPLOT_ABSENT;
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

/* The picture a script draws beside itself; half of one is worse than none. */
static gnuplot_result check_picture(const char *script, const char *format)
{
    char *picture = NULL;
    const size_t stem = strlen(script) - strlen(".gp");
    if (asprintf(&picture, "%.*s.%s", (int)stem, script, format) < 0) return GNUPLOT_FAILED;
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
