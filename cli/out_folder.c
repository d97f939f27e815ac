#include "out_folder.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "complain.h"

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
    if (mkdir(dir, 0777) == 0) return true;
    const int error = errno;
    if (error == EEXIST && stat(dir, &there) == 0 && S_ISDIR(there.st_mode)) return true;
    complain("%s: no folder to write to: %s", dir,
             error == EEXIST ? "there is a file of that name" : strerror(error));
    return false;
}

bool out_remove(const char *dir, const char *name, const char *ending)
{
    char *path = out_path(dir, name, ending);
    if (!path) return false;
    const bool gone = unlink(path) == 0 || errno == ENOENT;
    if (!gone) complain("%s: an earlier run's file cannot be removed: %s", path, strerror(errno));
    free(path);
    return gone;
}
