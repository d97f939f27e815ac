#include "batch/journal.h"

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/complain.h"
#include "base/csvread.h"
#include "base/write_file.h"
#include "show/csv.h"

enum { CASE, STAMP, OUTCOME }; /* first columns of the results */

struct journal {
    const batch_items *items;
    const char *results, *heading; /* borrowed */
    char *path;
    int fd;
    pthread_mutex_t lock; /* over fd, row, failed */
    char **row;           /* of each item, NULL: not done yet */
    bool failed;
};

static bool write_all(int fd, const char *text, size_t size)
{
    while (size > 0) {
        const ssize_t n = write(fd, text, size);
        if (n < 0 && errno == EINTR) continue;
        if (n <= 0) return false;
        text += n;
        size -= (size_t)n;
    }
    return true;
}

static exit_code cannot(const journal *j, const char *what)
{
    complain("%s: %s: %s", j->path, what, strerror(errno));
    return EXIT_SYSTEM;
}

/* ---- Taking over ----------------------------------------------------------------- */

static int item_of(const batch_items *items, const char *name, const char *stamp)
{
    char own[24];
    for (int i = 0; i < items->n; i++) {
        if (strcmp(items->item[i].name, name) != 0) continue;
        snprintf(own, sizeof own, "%016" PRIx64, items->item[i].stamp);
        return strcmp(own, stamp) == 0 ? i : -1;
    }
    return -1;
}

/* A row of the table as CSV again. */
static char *copy_row(const ct_table *t, int row)
{
    char *text = NULL;
    size_t size;
    csv_writer csv;
    FILE *f = open_memstream(&text, &size);
    if (!f) return NULL;
    csv_begin(&csv, f);
    for (int k = 0; k < ct_table_columns(t); k++)
        csv_text(&csv, ct_table_cell(t, row, k));
    csv_end_row(&csv);
    if (fclose(f) == 0) return text;
    free(text);
    return NULL;
}

/* Where the last whole row ends: a line end outside quotes. */
static size_t whole_rows(const char *text, size_t size)
{
    bool quoted = false;
    size_t end = 0;
    for (size_t i = 0; i < size; i++) {
        if (text[i] == '"') quoted = !quoted;
        if (text[i] == '\n' && !quoted) end = i + 1;
    }
    return end;
}

static bool same_heading(const journal *j, const char *text, size_t size)
{
    const size_t n = strlen(j->heading);
    return size >= n && memcmp(text, j->heading, n) == 0;
}

/* Keeps the rows that belong to these items. Files of another form are left alone. */
static void take_over(journal *j, const char *text, size_t size)
{
    ct_table *t;
    if (!same_heading(j, text, size) || ct_table_parse(text, size, &t, NULL) != CT_OK) return;
    for (int row = 1; row < ct_table_rows(t); row++) {
        const int i = item_of(j->items, ct_table_cell(t, row, CASE), ct_table_cell(t, row, STAMP));
        /* What failed for want of memory or a file may do better now. */
        const char *outcome = ct_table_cell(t, row, OUTCOME);
        if (i < 0 || strcmp(outcome, "system") == 0 || strcmp(outcome, "unread") == 0) continue;
        free(j->row[i]);
        j->row[i] = copy_row(t, row);
    }
    ct_table_free(t);
}

static void take_results(journal *j)
{
    size_t size;
    char *text = read_whole(j->results, &size);
    if (text) take_over(j, text, size);
    free(text);
}

/* Reads the journal and leaves it ending with a whole row, with this run's header. */
static exit_code take_journal(journal *j, bool fresh)
{
    size_t size = 0, keep = 0;
    char *text = read_whole(j->path, &size);
    if (!text) return cannot(j, "the journal cannot be read");
    if (!fresh && same_heading(j, text, size)) {
        keep = whole_rows(text, size);
        take_over(j, text, keep);
    }
    free(text);
    if (ftruncate(j->fd, (off_t)keep) != 0) return cannot(j, "the journal cannot be cut");
    if (lseek(j->fd, 0, SEEK_END) < 0) return cannot(j, "the journal cannot be written");
    if (keep == 0 && !write_all(j->fd, j->heading, strlen(j->heading)))
        return cannot(j, "the journal cannot be written");
    return EXIT_DONE;
}

/* Is the open file still the one of that name? A run that ends takes its journal away. */
static bool still_there(const journal *j)
{
    struct stat held, named;
    return fstat(j->fd, &held) == 0 && stat(j->path, &named) == 0 && held.st_dev == named.st_dev &&
           held.st_ino == named.st_ino;
}

static exit_code open_file(journal *j)
{
    do {
        if (j->fd >= 0) close(j->fd);
        j->fd = open(j->path, O_RDWR | O_CREAT | O_CLOEXEC, 0666);
        if (j->fd < 0) return cannot(j, "the journal cannot be opened");
        if (flock(j->fd, LOCK_EX | LOCK_NB) != 0) {
            complain("%s: another run is writing it; wait for it to end or choose another --output",
                     j->path);
            return EXIT_SYSTEM;
        }
    } while (!still_there(j));
    return EXIT_DONE;
}

exit_code journal_open(journal **out, const char *results, const char *heading,
                       const batch_items *items, bool fresh)
{
    journal *j = calloc(1, sizeof *j);
    exit_code code = EXIT_SYSTEM;
    if (j) {
        *j = (journal){.items = items, .results = results, .heading = heading, .fd = -1};
        pthread_mutex_init(&j->lock, NULL);
        j->row = calloc((size_t)items->n, sizeof *j->row);
        if (asprintf(&j->path, "%s.part", results) < 0) j->path = NULL;
    }
    if (!j || !j->row || !j->path) {
        complain("batch: out of memory");
    } else {
        code = open_file(j);
        if (code == EXIT_DONE && !fresh) take_results(j);
        if (code == EXIT_DONE) code = take_journal(j, fresh);
    }
    if (code == EXIT_DONE)
        *out = j;
    else
        journal_close(j);
    return code;
}

/* ---- Rows ------------------------------------------------------------------------ */

bool journal_has(const journal *j, int item)
{
    return j->row[item] != NULL;
}

void journal_add(journal *j, int item, char *text, size_t size)
{
    pthread_mutex_lock(&j->lock);
    const bool good = text && write_all(j->fd, text, size);
    const int error = errno;
    j->row[item] = text;
    if (!good && !j->failed) {
        if (text)
            complain("%s: the journal cannot be written: %s", j->path, strerror(error));
        else
            complain("%s: a row could not be made: out of memory", j->items->item[item].name);
    }
    j->failed = j->failed || !good;
    pthread_mutex_unlock(&j->lock);
}

static bool is_one_of(const char *outcome, const char *const *list)
{
    for (; *list; list++)
        if (strcmp(outcome, *list) == 0) return true;
    return false;
}

/* Rows whose outcome is in the list; a row that is missing or cannot be read is in none. */
static int count(const journal *j, const char *const *list)
{
    int n = 0;
    for (int i = 0; i < j->items->n; i++) {
        ct_table *t;
        const char *row = j->row[i];
        if (!row || ct_table_parse(row, strlen(row), &t, NULL) != CT_OK) continue;
        n += is_one_of(ct_table_cell(t, 0, OUTCOME), list);
        ct_table_free(t);
    }
    return n;
}

int journal_said_no(const journal *j)
{
    static const char *const no[] = {"no_pick", "does_not_fit", NULL};
    return count(j, no);
}

int journal_wrong(const journal *j)
{
    static const char *const answered[] = {"pick", "no_pick", "does_not_fit", NULL};
    return j->items->n - count(j, answered);
}

bool journal_finish(journal *j)
{
    write_file file;
    if (j->failed) return false;
    if (!write_file_open(&file, j->results)) return false;
    fputs(j->heading, file.stream);
    for (int i = 0; i < j->items->n; i++)
        fputs(j->row[i], file.stream);
    if (!write_file_close(&file)) return false;
    if (unlink(j->path) == 0) return true;
    cannot(j, "the journal cannot be removed");
    return false;
}

void journal_close(journal *j)
{
    if (!j) return;
    if (j->fd >= 0) close(j->fd);
    for (int i = 0; j->row && i < j->items->n; i++)
        free(j->row[i]);
    free(j->row);
    free(j->path);
    pthread_mutex_destroy(&j->lock);
    free(j);
}
