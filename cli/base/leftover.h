/* What a run must not leave behind when a signal ends it: temporary files and folders, and a
 * program it has started. */
#ifndef CLI_BASE_LEFTOVER_H
#define CLI_BASE_LEFTOVER_H

#include <sys/types.h>

/* Answers the signals that end a run (Ctrl-C, hang-up, a polite end, a closed pipe) by clearing
 * away first. A signal that was ignored at the start stays ignored. */
void leftover_watch(void);

/* Notes a file or an (in the end empty) folder; what was noted last goes first. Returns its place,
 * -1 when there is no room for more: then a signal leaves it. */
int leftover_add(const char *path);
void leftover_drop(int place);

/* The group of processes to end as well; 0: none. */
void leftover_group(pid_t group);

#endif
