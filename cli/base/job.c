#include "base/job.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/complain.h"
#include "base/faults.h"
#include "base/read_file.h"
#include "base/write_file.h"
#include "case/usual.h"
#include "plant/settle.h"

/* Keys a contradiction can come from, to look at first. */
#define NAMEPLATE_KEYS                                                                             \
    "outdoor.rated_capacity, rated_eer or rated_seer, rated_airflow, rated_sensible_ratio, "       \
    "rated_saturated_suction, rated_saturated_discharge"
#define WAY_KEYS "house.run_time, floor_area; duct"
#define UNIT_KEYS "coil, metering, blower; site.indoor_air"

/* The pairs as overrides, with room behind them for the usual answers. */
typedef struct {
    ct_override item[MAX_PAIRS + CT_USUAL_MAX];
    ct_usual usual[CT_USUAL_MAX];
    int n, n_usual;
} pairs;

static void pairs_of(const arguments *args, pairs *p)
{
    p->n = args->n_pairs;
    p->n_usual = 0;
    for (int i = 0; i < args->n_pairs; i++)
        p->item[i] = (ct_override){args->pair[i].key, args->pair[i].text, CT_LINE_OF_PAIR};
}

/* Without a file the usual answers fill what the pairs leave out. */
static void pairs_complete(const arguments *args, pairs *p)
{
    pairs_of(args, p);
    if (args->n_operands) return;
    p->n_usual = ct_usual_answers(&(ct_overrides){p->item, p->n}, p->usual);
    for (int i = 0; i < p->n_usual; i++)
        p->item[p->n++] = (ct_override){p->usual[i].key, p->usual[i].text, CT_LINE_OF_PAIR};
}

static exit_code read_text(const arguments *args, job *j)
{
    j->path = args->n_operands ? args->operand[0] : COMMAND_LINE;
    if (!args->n_operands) return EXIT_DONE;
    j->text = read_file_or_pipe(j->path, READ_FILE_CASE, &j->size);
    if (read_file_is_standard(j->path)) j->path = "standard input";
    if (j->text) return EXIT_DONE;
    complain("%s: cannot be read: %s", j->path, read_file_reason());
    return EXIT_SYSTEM;
}

static exit_code parse(const arguments *args, job *j)
{
    pairs p;
    pairs_of(args, &p);
    const ct_overrides over = {p.item, p.n};
    ct_fault fault;
    const ct_status status =
        args->n_operands ? ct_casefile_parse_over(j->text, j->size, &over, j->c, j->report, &fault)
                         : ct_usual_case(&over, j->c, j->report, &fault);
    if (status == CT_INPUT)
        faults_complain(j->path, j->report);
    else if (status != CT_OK)
        complain("%s: %s", j->path, fault.what);
    return exit_code_of(status);
}

exit_code job_case_text(const arguments *args, const job *j, char **text)
{
    pairs p;
    ct_fault fault;
    pairs_complete(args, &p);
    if (p.n == 0) { /* nothing was changed: the file with its comments */
        *text = strdup(j->text);
        if (*text) return EXIT_DONE;
        complain("out of memory for the case");
        return EXIT_SYSTEM;
    }
    const ct_status status = ct_casefile_merge(
        j->text ? j->text : "", j->size, &(ct_overrides){p.item, p.n}, j->report, text, &fault);
    return status == CT_OK ? EXIT_DONE : complain_fault(&fault);
}

/* --save */
static exit_code save(const arguments *args, const job *j)
{
    char *text;
    write_file file;
    if (!args->save.given) return EXIT_DONE;
    exit_code code = job_case_text(args, j, &text);
    if (code != EXIT_DONE) return code;
    code = EXIT_SYSTEM;
    if (write_file_open(&file, args->save.text)) {
        if (args->n_pairs)
            fputs("# Saved by coiltrim. Correct what you know better.\n\n", file.stream);
        fputs(text, file.stream);
        const bool is_file = file.temporary != NULL;
        if (write_file_close(&file)) code = EXIT_DONE;
        if (code == EXIT_DONE && is_file) complain("the case is in %s", args->save.text);
    }
    free(text);
    return code;
}

/* What the answer hangs on is said at once, not only in the list of what was assumed. */
static void say_guesses(const arguments *args)
{
    pairs p;
    pairs_complete(args, &p);
    for (int i = 0; i < p.n_usual; i++)
        if (p.usual[i].guess)
            complain("%s = %s is %s", p.usual[i].key, p.usual[i].text, p.usual[i].why);
}

/* "latent_load" of a line of a file; is it given as a pair? */
static bool is_given(const arguments *args, const char *key, size_t length)
{
    for (int i = 0; i < args->n_pairs; i++) {
        char path[CT_KEY_PATH];
        ct_casefile_path(args->pair[i].key, path);
        const char *dot = strrchr(path, '.'), *last = dot ? dot + 1 : path;
        if (strlen(last) == length && strncmp(last, key, length) == 0) return true;
    }
    return false;
}

/* A guess that was saved is still one: the remark that went into the file with it says so. */
static void say_marked(const arguments *args, const job *j)
{
    static const char mark[] = "# " CT_ASSUMED_MARK CT_USUAL_GUESS;
    const char *begin = j->text, *from = j->text;
    int line = 1;
    for (const char *hit; from && (hit = strstr(from, mark)); from = hit + 1) {
        for (const char *c = from; c < hit; c++)
            if (*c == '\n') line++, begin = c + 1;
        begin += strspn(begin, " ");
        size_t n = begin < hit ? (size_t)(hit - begin) : 0;
        while (n > 0 && begin[n - 1] == ' ')
            n--;
        if (!is_given(args, begin, strcspn(begin, ":")))
            complain("%s:%d: %.*s is marked as a guess; when you know better, correct it and take "
                     "the mark out",
                     j->path, line, (int)n, begin);
    }
}

/* Once for all that goes with one pair. */
static void say_set_aside(const ct_case_report *report)
{
    const ct_set_aside *list = report->set_aside;
    for (int i = 0; i < report->n_set_aside;) {
        const char *pair = list[i].pair;
        char text[2000] = "";
        for (size_t n = 0; i < report->n_set_aside && strcmp(list[i].pair, pair) == 0; i++)
            if (n < sizeof text)
                n += (size_t)snprintf(text + n, sizeof text - n, "%s%s = %s", n ? ", " : "",
                                      list[i].key, list[i].given);
        complain("with metering = %s these values of the file are set aside: %s", pair, text);
    }
}

exit_code job_open_case(const arguments *args, job *j)
{
    *j = (job){.c = malloc(sizeof *j->c), .report = malloc(sizeof *j->report)};
    exit_code code = EXIT_SYSTEM;
    if (j->c && j->report)
        code = read_text(args, j);
    else
        complain("out of memory for the case");
    if (code == EXIT_DONE) code = parse(args, j);
    if (code == EXIT_DONE) say_guesses(args);
    if (code == EXIT_DONE) say_marked(args, j);
    if (code == EXIT_DONE) say_set_aside(j->report);
    if (code == EXIT_DONE) code = save(args, j);
    if (code != EXIT_DONE) job_close(j);
    return code;
}

bool job_unit_is_named(const ct_indoor_unit *u)
{
    return strcmp(u->name, CT_UNNAMED_UNIT) != 0;
}

bool job_is_metric(const job *j, bool si)
{
    return si || j->report->n_celsius > j->report->n_fahrenheit;
}

ct_setup job_setup(const job *j, int i)
{
    return (ct_setup){j->solver, j->c, &j->outdoor, &j->matched, i};
}

exit_code job_join(job *j, int i, ct_sweep_job *sweep)
{
    const ct_setup setup = job_setup(j, i);
    ct_fault fault;
    char keys[200];
    if (ct_sweep_prepare(&setup, sweep, &fault) == CT_OK) return EXIT_DONE;
    if (i == 0)
        snprintf(keys, sizeof keys, "indoor: %s", UNIT_KEYS);
    else
        snprintf(keys, sizeof keys, "candidates[%d]: %s", i, UNIT_KEYS);
    return faults_complain_contradiction(j->path, keys, &fault);
}

static exit_code make_equipment(job *j)
{
    ct_fault fault;
    if (ct_refrigerant_make(j->c->outdoor.refrigerant, &j->refrigerant, &fault) != CT_OK)
        return faults_complain_key(j->path, "outdoor.refrigerant", &fault);
    if (ct_solver_make(&j->solver, &fault) != CT_OK) return complain_fault(&fault);
    if (ct_settle(j->c, j->refrigerant, j->solver, j->report,
                  &(ct_settled){&j->outdoor, &j->matched, &j->calibration}, &fault) != CT_OK)
        return faults_complain_contradiction(j->path, NAMEPLATE_KEYS, &fault);
    const ct_setup setup = job_setup(j, 0);
    if (ct_ways_find(j->c, &setup, j->report, &j->ways, &fault) != CT_OK)
        return faults_complain_contradiction(j->path, WAY_KEYS, &fault);
    return EXIT_DONE;
}

exit_code job_open_outdoor(const arguments *args, job *j)
{
    exit_code code = job_open_case(args, j);
    if (code != EXIT_DONE) return code;
    code = make_equipment(j);
    if (code != EXIT_DONE) job_close(j);
    return code;
}

exit_code job_open(const arguments *args, job *j)
{
    exit_code code = job_open_outdoor(args, j);
    if (code != EXIT_DONE) return code;
    code = job_join(j, 0, &j->sweep);
    if (code != EXIT_DONE) job_close(j);
    return code;
}

void job_close(job *j)
{
    ct_solver_free(j->solver);
    ct_refrigerant_free(j->refrigerant);
    free(j->report);
    free(j->text);
    free(j->c);
    *j = (job){0};
}

exit_code job_run(const arguments *args, job_opener *open, job_work *work)
{
    job j;
    exit_code code = open(args, &j);
    if (code != EXIT_DONE) return code;
    code = work(&j, args->option);
    job_close(&j);
    return code;
}
