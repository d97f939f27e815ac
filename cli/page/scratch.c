#include "page/scratch.h"

#include <dirent.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/leftover.h"

static const char beginning[] = "coiltrim.";
enum { RANDOM = 6 };

static const char *file_name(int i)
{
    return i == SCRATCH_SCRIPT ? "page.gp" : page_plot_file[i];
}

static const char *place(void)
{
    const char *named = getenv("TMPDIR");
    return named && named[0] ? named : "/tmp";
}

/* ---- What a run that was ended by force has left --------------------------------- */

static bool is_ours(int folder)
{
    struct stat about;
    return fstat(folder, &about) == 0 && about.st_uid == geteuid() &&
           flock(folder, LOCK_EX | LOCK_NB) == 0;
}

static void clear_one(int in, const char *name)
{
    const int folder = openat(in, name, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
    if (folder < 0) return;
    if (is_ours(folder)) {
        for (int i = 0; i < SCRATCH_FILES; i++)
            unlinkat(folder, file_name(i), 0);
        unlinkat(in, name, AT_REMOVEDIR); /* stays when there is something else in it */
    }
    close(folder);
}

static void clear_old(void)
{
    DIR *all = opendir(place());
    const struct dirent *entry;
    const size_t n = sizeof beginning - 1;
    if (!all) return;
    while ((entry = readdir(all)))
        if (strncmp(entry->d_name, beginning, n) == 0 && strlen(entry->d_name) == n + RANDOM)
            clear_one(dirfd(all), entry->d_name);
    closedir(all);
}

/* ---- Our own --------------------------------------------------------------------- */

/* Another run may clear the folder between its making and its lock: then it is not there any
 * more. */
static bool make(scratch *s)
{
    struct stat locked, there;
    const int n = snprintf(s->folder, sizeof s->folder, "%s/%sXXXXXX", place(), beginning);
    if (n < 0 || (size_t)n >= sizeof s->folder || !mkdtemp(s->folder)) return false;
    s->lock = open(s->folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (s->lock >= 0 && flock(s->lock, LOCK_EX | LOCK_NB) == 0 && fstat(s->lock, &locked) == 0 &&
        stat(s->folder, &there) == 0 && there.st_ino == locked.st_ino)
        return true;
    if (s->lock >= 0) close(s->lock);
    rmdir(s->folder);
    return false;
}

bool scratch_open(scratch *s)
{
    enum { TRIES = 5 };
    char path[SCRATCH_PATH];
    bool made = false;
    clear_old();
    for (int i = 0; i < TRIES && !made; i++)
        made = make(s);
    if (!made) return false;
    s->left[SCRATCH_FILES] = leftover_add(s->folder);
    for (int i = 0; i < SCRATCH_FILES; i++) {
        scratch_path(s, i, path);
        s->left[i] = leftover_add(path);
    }
    return true;
}

void scratch_close(scratch *s)
{
    char path[SCRATCH_PATH];
    for (int i = 0; i < SCRATCH_FILES; i++) {
        scratch_path(s, i, path);
        unlink(path);
    }
    rmdir(s->folder);
    close(s->lock);
    for (int i = 0; i <= SCRATCH_FILES; i++)
        leftover_drop(s->left[i]);
}

void scratch_path(const scratch *s, int file, char path[SCRATCH_PATH])
{
    snprintf(path, SCRATCH_PATH, "%s/%s", s->folder, file_name(file));
}
