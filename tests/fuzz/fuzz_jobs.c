/* The jobs table as a batch reads it: heading, decimal commas, names, dashes, then the cases. */
#include <sys/mman.h>
#include <unistd.h>

#include "base/inputs.h"
#include "batch/items.h"
#include "fuzz.h"

enum { MAX_CASES = 3 };

/* A batch takes the name of a file. */
static const char *as_file(const uint8_t *data, size_t size)
{
    static char path[40];
    static int file = -1;
    if (file < 0) file = memfd_create("jobs", MFD_CLOEXEC);
    HOLDS(file >= 0 && ftruncate(file, 0) == 0);
    HOLDS(pwrite(file, data, size, 0) == (ssize_t)size);
    snprintf(path, sizeof path, "/proc/self/fd/%d", file);
    return path;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const ct_overrides none;
    static ct_case c;
    static ct_case_report report;
    batch_items items = {.n = 0};
    ct_fault fault = {.what = ""};
    const exit_code code = batch_items_read(as_file(data, size), NULL, &none, &items);
    HOLDS(code == EXIT_DONE || code == EXIT_INPUT);
    for (int i = 0; code == EXIT_DONE && i < items.n; i++)
        HOLDS(items.item[i].name);
    for (int i = 0; code == EXIT_DONE && i < items.n && i < MAX_CASES; i++) {
        if (items.item[i].wrong) continue;
        const ct_status status = batch_items_case(&items, i, &c, &report, &fault);
        fuzz_check_report(status, &report, fuzz_lines(data, size));
    }
    if (code == EXIT_DONE) batch_items_free(&items);
    inputs_forget();
    return 0;
}
