#include "base/leftover.h"

#include <signal.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { PLACES = 24 };

/* Read by the signal handler at any moment: pointers are exchanged whole. */
static _Atomic(char *) path[PLACES];
static atomic_int group;

int leftover_add(const char *name)
{
    int last = -1;
    for (int i = 0; i < PLACES; i++)
        if (atomic_load(&path[i])) last = i;
    char *copy = last + 1 < PLACES ? strdup(name) : NULL;
    if (!copy) return -1;
    atomic_store(&path[last + 1], copy);
    return last + 1;
}

void leftover_drop(int place)
{
    if (place >= 0) free(atomic_exchange(&path[place], NULL));
}

void leftover_group(pid_t of)
{
    atomic_store(&group, (int)of);
}

/* Only calls that POSIX allows in a handler. */
static void clear_away(int signal_number)
{
    const int running = atomic_load(&group);
    if (running > 0) kill(-running, SIGKILL);
    for (int i = PLACES - 1; i >= 0; i--) {
        const char *name = atomic_load(&path[i]);
        if (name && unlink(name) != 0) rmdir(name);
    }
    raise(signal_number); /* SA_RESETHAND: this one ends the process */
}

void leftover_watch(void)
{
    static const int signals[] = {SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGPIPE, SIGXCPU, SIGXFSZ};
    struct sigaction now, ours = {.sa_handler = clear_away, .sa_flags = (int)SA_RESETHAND};
    sigfillset(&ours.sa_mask);
    for (size_t i = 0; i < sizeof signals / sizeof signals[0]; i++)
        if (sigaction(signals[i], NULL, &now) == 0 && now.sa_handler == SIG_DFL)
            sigaction(signals[i], &ours, NULL);
}
