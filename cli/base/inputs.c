#include "base/inputs.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/complain.h"

static struct {
    struct {
        dev_t device;
        ino_t inode;
    } * file;
    size_t n, room;
} noted;

static bool note(const struct stat *there)
{
    if (noted.n == noted.room) {
        const size_t room = noted.room ? 2 * noted.room : 16;
        void *larger = realloc(noted.file, room * sizeof *noted.file);
        if (!larger) {
            complain("out of memory");
            return false;
        }
        noted.file = larger;
        noted.room = room;
    }
    noted.file[noted.n].device = there->st_dev;
    noted.file[noted.n++].inode = there->st_ino;
    return true;
}

bool inputs_note(const char *path)
{
    struct stat there;
    return stat(path, &there) != 0 || !S_ISREG(there.st_mode) || note(&there);
}

bool inputs_has(const struct stat *there)
{
    for (size_t i = 0; i < noted.n; i++)
        if (noted.file[i].device == there->st_dev && noted.file[i].inode == there->st_ino)
            return true;
    return false;
}

bool inputs_has_path(const char *path)
{
    struct stat there;
    return stat(path, &there) == 0 && inputs_has(&there);
}

static bool is_output(const option_row *row)
{
    return strcmp(row->name, "output") == 0;
}

static bool note_all(const verb *v, const arguments *args)
{
    struct stat standard_input;
    bool good = true;
    for (int i = 0; i < args->n_operands; i++)
        good = good && inputs_note(args->operand[i]);
    for (int i = 0; i < v->n_options; i++) {
        const option_row *row = &v->options[i];
        if (row->kind == OPTION_TEXT && args->option[i].text && row->shows &&
            (strcmp(row->shows, "CASE") == 0 || strcmp(row->name, "weather") == 0) &&
            !is_output(row))
            good = good && inputs_note(args->option[i].text);
    }
    if (fstat(STDIN_FILENO, &standard_input) == 0 && S_ISREG(standard_input.st_mode))
        good = good && note(&standard_input);
    return good;
}

static exit_code check_output(const verb *v, const char *option, const char *path)
{
    if (!path || !inputs_has_path(path)) return EXIT_DONE;
    complain("%s: --%s: '%s' is a file this run reads; it would be lost; choose another name",
             v->name, option, path);
    return EXIT_USAGE;
}

exit_code inputs_check(const verb *v, const arguments *args)
{
    if (!note_all(v, args)) return EXIT_SYSTEM;
    for (int i = 0; i < v->n_options; i++) {
        if (!is_output(&v->options[i])) continue;
        const exit_code code = check_output(v, v->options[i].name, args->option[i].text);
        if (code != EXIT_DONE) return code;
    }
    return check_output(v, "save", args->save.text);
}

void inputs_forget(void)
{
    free(noted.file);
    memset(&noted, 0, sizeof noted);
}
