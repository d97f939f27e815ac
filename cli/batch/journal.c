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
#include "base/inputs.h"
#include "base/read_file.h"
#include "base/table.h"
#include "base/text_stream.h"
#include "base/write_file.h"
#include "show/csv.h"

enum { OUTCOME = 1 };                         /* column of the results; the stamp is the last */
#define ANY_HEADING "case,outcome,fault,tap," /* how every version's begins */
enum { DIGITS = 16 };                         /* of each half of a stamp */

/* More than this beside the results is no journal of ours: 64 MB of table make at most that. */
static const size_t largest_journal = (size_t)1 << 32;

struct journal {
    const batch_items *items;
    journal_plan plan;
    bool kept; /* in a file beside the results */
    char *path;
    const batch_item **by_stamp; /* all items, sorted */
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

/* ---- Stamps ---------------------------------------------------------------------- */

void journal_stamp(char stamp[JOURNAL_STAMP_SIZE], const batch_item *item)
{
    snprintf(stamp, JOURNAL_STAMP_SIZE, "%016" PRIx64 "%0*d", item->stamp, DIGITS, 0);
}

static int stamp_column(const ct_table *t)
{
    return ct_table_columns(t) - 1;
}

/* Over all cells but the check itself. */
static void row_check(char check[DIGITS + 1], const ct_table *t, int row)
{
    uint64_t hash = BATCH_HASH;
    for (int k = 0; k < ct_table_columns(t); k++) {
        const char *cell = ct_table_cell(t, row, k);
        const size_t n = strlen(cell);
        hash = batch_items_hash(hash, cell, k == stamp_column(t) && n > DIGITS ? DIGITS : n);
        hash = batch_items_hash(hash, "", 1);
    }
    snprintf(check, DIGITS + 1, "%016" PRIx64, hash);
}

/* Puts the check into a row that was just made. */
static bool seal(const batch_item *item, char *text, size_t size)
{
    char stamp[JOURNAL_STAMP_SIZE], check[DIGITS + 1];
    ct_table *t;
    journal_stamp(stamp, item);
    char *at = strstr(text, stamp);
    if (!at || ct_table_parse(text, size, &t, NULL) != CT_OK) return false;
    row_check(check, t, 0);
    ct_table_free(t);
    memcpy(at + DIGITS, check, DIGITS);
    return true;
}

static int by_stamp(const void *a, const void *b)
{
    const batch_item *x = *(const batch_item *const *)a, *y = *(const batch_item *const *)b;
    return (x->stamp > y->stamp) - (x->stamp < y->stamp);
}

static bool sort_items(journal *j)
{
    j->by_stamp = calloc((size_t)j->items->n + 1, sizeof *j->by_stamp);
    for (int i = 0; j->by_stamp && i < j->items->n; i++)
        j->by_stamp[i] = &j->items->item[i];
    if (j->by_stamp) qsort(j->by_stamp, (size_t)j->items->n, sizeof *j->by_stamp, by_stamp);
    return j->by_stamp != NULL;
}

/* The item a row belongs to, -1: none, or the row is not as it was written. */
static int item_of(const journal *j, const ct_table *t, int row)
{
    char check[DIGITS + 1];
    batch_item wanted;
    const batch_item *key = &wanted;
    const char *stamp = ct_table_cell(t, row, stamp_column(t));
    char *end;
    row_check(check, t, row);
    if (strlen(stamp) != JOURNAL_STAMP_SIZE - 1 || strcmp(stamp + DIGITS, check) != 0) return -1;
    char own[DIGITS + 1];
    snprintf(own, sizeof own, "%.*s", DIGITS, stamp);
    wanted.stamp = strtoull(own, &end, 16);
    if (*end) return -1;
    const batch_item **at =
        bsearch(&key, j->by_stamp, (size_t)j->items->n, sizeof *j->by_stamp, by_stamp);
    return at ? (int)(*at - j->items->item) : -1;
}

/* ---- Taking over ----------------------------------------------------------------- */

/* A row of the table as CSV again. */
static char *copy_row(const ct_table *t, int row)
{
    char *text = NULL;
    csv_writer csv;
    size_t size;
    FILE *f = text_stream(&text, &size);
    if (!f) return NULL;
    csv_begin(&csv, f);
    for (int k = 0; k < ct_table_columns(t); k++)
        csv_text(&csv, ct_table_cell(t, row, k));
    csv_end_row(&csv);
    if (fclose(f) == 0) return text;
    free(text);
    return NULL;
}

/* Where the first row ends, a line end outside quotes; 0: nowhere. */
static size_t row_end(const char *text, size_t size)
{
    bool quoted = false;
    for (size_t i = 0; i < size; i++) {
        if (text[i] == '"') quoted = !quoted;
        if (text[i] == '\n' && !quoted) return i + 1;
    }
    return 0;
}

static bool same_heading(const journal *j, const char *text, size_t size)
{
    const size_t n = strlen(j->plan.heading);
    return size >= n && memcmp(text, j->plan.heading, n) == 0;
}

/* Of any version; a run may have ended before it had written its heading. */
static bool is_journal(const journal *j, const char *text, size_t size)
{
    const size_t n = strlen(ANY_HEADING);
    const size_t some = size < n ? size : n;
    return memcmp(text, ANY_HEADING, some) == 0 && memcmp(j->plan.heading, ANY_HEADING, n) == 0;
}

static void take_row(journal *j, const char *text, size_t size)
{
    ct_table *t;
    if (ct_table_parse(text, size, &t, NULL) != CT_OK) return;
    const int i = ct_table_rows(t) == 1 ? item_of(j, t, 0) : -1;
    /* What failed for want of memory or a file may do better now. */
    const char *outcome = i >= 0 ? ct_table_cell(t, 0, OUTCOME) : "";
    if (i >= 0 && strcmp(outcome, "system") != 0 && strcmp(outcome, "unread") != 0) {
        free(j->row[i]);
        j->row[i] = copy_row(t, 0);
    }
    ct_table_free(t);
}

/* Keeps the rows that belong to these items, and returns where the last whole row ends. Files of
 * another form are left alone. Row by row, so that one that is damaged costs no other. */
static size_t take_over(journal *j, const char *text, size_t size, bool headed)
{
    size_t at = 0, n;
    if (headed && !same_heading(j, text, size)) return 0;
    for (at = headed ? strlen(j->plan.heading) : 0; (n = row_end(text + at, size - at)) > 0;
         at += n)
        take_row(j, text + at, n);
    return at;
}

static void take_results(journal *j)
{
    size_t size;
    char *text = read_file(j->plan.results, largest_journal, &size);
    if (text) take_over(j, text, size, j->plan.headed);
    free(text);
}

/* Reads the journal and leaves it ending with a whole row, with this run's header. */
static exit_code take_journal(journal *j)
{
    size_t size = 0, keep = 0;
    char *text = read_file(j->path, largest_journal, &size);
    if (!text) return cannot(j, "the journal cannot be read");
    const bool ours = is_journal(j, text, size);
    if (ours && !j->plan.fresh) keep = take_over(j, text, size, true);
    free(text);
    if (!ours) {
        complain("%s: not a file of this program; the rows would go there while the batch runs; "
                 "move it away or choose another --output",
                 j->path);
        return EXIT_SYSTEM;
    }
    if (ftruncate(j->fd, (off_t)keep) != 0) return cannot(j, "the journal cannot be cut");
    if (lseek(j->fd, 0, SEEK_END) < 0) return cannot(j, "the journal cannot be written");
    if (keep == 0 && !write_all(j->fd, j->plan.heading, strlen(j->plan.heading)))
        return cannot(j, "the journal cannot be written");
    return EXIT_DONE;
}

/* Is the open file still the one of that name? A run that ends takes its journal away. */
static bool still_there(const journal *j)
{
    struct stat held, named;
    return fstat(j->fd, &held) == 0 && lstat(j->path, &named) == 0 && held.st_dev == named.st_dev &&
           held.st_ino == named.st_ino;
}

static exit_code refuse(const char *path, const char *why)
{
    complain("%s: %s; move it away or choose another --output", path, why);
    return EXIT_SYSTEM;
}

/* Both names must be free, or plain files: a link of the journal's name leads to a file of somebody
 * else, a device or a pipe would be read for ever. */
static exit_code check_places(const journal *j)
{
    struct stat there;
    if (stat(j->plan.results, &there) == 0 && !S_ISREG(there.st_mode))
        return refuse(j->plan.results, "not a regular file");
    if (lstat(j->path, &there) == 0 && !S_ISREG(there.st_mode))
        return refuse(j->path, S_ISLNK(there.st_mode) ? "a link" : "not a regular file");
    if (!inputs_has_path(j->plan.results) && !inputs_has_path(j->path)) return EXIT_DONE;
    complain("batch: --output: '%s' or '%s' is a file this batch reads; choose another name",
             j->plan.results, j->path);
    return EXIT_USAGE;
}

static exit_code open_file(journal *j)
{
    do {
        if (j->fd >= 0) close(j->fd);
        j->fd = open(j->path, O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK, 0666);
        if (j->fd < 0) return cannot(j, "the journal cannot be opened");
        if (flock(j->fd, LOCK_EX | LOCK_NB) != 0) {
            complain("%s: another run is writing it; wait for it to end or choose another --output",
                     j->path);
            return EXIT_SYSTEM;
        }
    } while (!still_there(j));
    return EXIT_DONE;
}

static exit_code open_kept(journal *j)
{
    exit_code code = check_places(j);
    if (code == EXIT_DONE) code = open_file(j);
    if (code == EXIT_DONE && !j->plan.fresh) take_results(j);
    return code == EXIT_DONE ? take_journal(j) : code;
}

exit_code journal_open(journal **out, const journal_plan *plan, const batch_items *items)
{
    journal *j = calloc(1, sizeof *j);
    exit_code code = EXIT_SYSTEM;
    if (j) {
        *j = (journal){.items = items, .plan = *plan, .fd = -1};
        j->kept = !read_file_is_standard(plan->results);
        pthread_mutex_init(&j->lock, NULL);
        j->row = calloc((size_t)items->n + 1, sizeof *j->row);
        if (asprintf(&j->path, "%s.part", plan->results) < 0) j->path = NULL;
    }
    if (!j || !j->row || !j->path || !sort_items(j))
        complain("batch: out of memory");
    else
        code = j->kept ? open_kept(j) : EXIT_DONE;
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
    if (text && !seal(&j->items->item[item], text, size)) {
        free(text);
        text = NULL;
    }
    pthread_mutex_lock(&j->lock);
    const bool good = text && (!j->kept || write_all(j->fd, text, size));
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
        if (!row || !complain_had(ct_table_parse(row, strlen(row), &t, NULL))) continue;
        n += is_one_of(ct_table_cell(t, 0, OUTCOME), list);
        ct_table_free(t);
    }
    return n;
}

int journal_failed(const journal *j)
{
    static const char *const failed[] = {"system", NULL};
    return count(j, failed);
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
    if (!write_file_open(&file, j->plan.results)) return false;
    if (j->plan.headed) fputs(j->plan.heading, file.stream);
    for (int i = 0; i < j->items->n; i++)
        fputs(j->row[i], file.stream);
    if (!write_file_close(&file)) return false;
    if (!j->kept || unlink(j->path) == 0) return true;
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
    free(j->by_stamp);
    pthread_mutex_destroy(&j->lock);
    free(j);
}
