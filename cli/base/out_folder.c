#include "base/out_folder.h"

#include <assert.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/complain.h"
#include "base/gnuplot.h"
#include "base/inputs.h"
#include "base/read_file.h"

char *out_path(const char *dir, const char *name, const char *ending)
{
    char *path;
    if (asprintf(&path, "%s/%s.%s", dir, name, ending) >= 0) return path;
    complain("%s: out of memory", dir);
    return NULL;
}

bool out_folder(const char *dir)
{
    struct stat there;
    if (read_file_is_standard(dir)) {
        complain("-: a folder of files cannot go to standard output; name a folder");
        return false;
    }
    if (mkdir(dir, 0777) == 0) return true;
    int error = errno;
    if (error == EEXIST && stat(dir, &there) == 0 && S_ISDIR(there.st_mode)) {
        if (access(dir, W_OK | X_OK) == 0) return true;
        error = errno;
    }
    complain("%s: no folder to write to: %s", dir,
             error == EEXIST ? "there is a file of that name" : strerror(error));
    return false;
}

bool out_folder_possible(const char *dir)
{
    struct stat there;
    const bool absent = stat(dir, &there) != 0;
    const bool good = out_folder(dir);
    if (good && absent) rmdir(dir);
    return good;
}

bool out_remove(const char *dir, const char *name, const char *ending)
{
    char *path = out_path(dir, name, ending);
    struct stat there;
    if (!path) return false;
    if (lstat(path, &there) != 0 && errno == ENOENT) { /* mostly */
        free(path);
        return true;
    }
    if (inputs_has_path(path)) {
        complain("%s: this run reads it; it would be lost; choose another folder", path);
        free(path);
        return false;
    }
    const bool gone = unlink(path) == 0 || errno == ENOENT;
    if (!gone) complain("%s: an earlier run's file cannot be removed: %s", path, strerror(errno));
    free(path);
    return gone;
}

bool out_open(write_file *file, const char *dir, const char *name, const char *ending)
{
    char *path = out_path(dir, name, ending);
    const bool opened = path && write_file_open(file, path);
    file->again = true;
    free(path);
    return opened;
}

bool out_remove_pictures(const char *dir, const char *name)
{
    static const char *const formats[] = {"png", "svg", "pdf"};
    for (size_t i = 0; i < sizeof formats / sizeof formats[0]; i++)
        if (!out_remove(dir, name, formats[i])) return false;
    return true;
}

exit_code out_draw(const char *dir, const char *name, const char *format, bool *render)
{
    if (!*render) return EXIT_DONE;
    char *path = out_path(dir, name, "gp");
    if (!path) return EXIT_SYSTEM;
    const gnuplot_result result = gnuplot_run(path, format);
    free(path);
    if (result == GNUPLOT_ABSENT) *render = false; /* told once is enough */
    if (result != GNUPLOT_FAILED) return EXIT_DONE;
    out_remove(dir, name, format);
    return EXIT_SYSTEM;
}

void out_scripts_add(out_scripts *list, const char *name)
{
    assert(list->n < OUT_SCRIPTS);
    list->name[list->n++] = name;
}

static gnuplot_result draw_together(const char *dir, const out_scripts *list, const char *format)
{
    char *path[OUT_SCRIPTS];
    gnuplot_result result = GNUPLOT_DONE;
    for (int i = 0; i < list->n; i++) {
        path[i] = out_path(dir, list->name[i], "gp");
        if (!path[i]) result = GNUPLOT_FAILED;
    }
    if (result == GNUPLOT_DONE)
        result = gnuplot_run_together((const char *const *)path, list->n, format);
    for (int i = 0; i < list->n; i++)
        free(path[i]);
    return result;
}

exit_code out_draw_all(const char *dir, const out_scripts *list, const char *format, bool render)
{
    exit_code code = EXIT_DONE;
    const gnuplot_result together = render ? draw_together(dir, list, format) : GNUPLOT_DONE;
    if (together == GNUPLOT_DONE) return EXIT_DONE;
    for (int i = 0; i < list->n; i++)
        if (together == GNUPLOT_ALONE) {
            if (out_draw(dir, list->name[i], format, &render) != EXIT_DONE) code = EXIT_SYSTEM;
        } else
            code = EXIT_SYSTEM;
    return code;
}
