#include "new/dialog.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "base/paragraph.h"
#include "base/units.h"
#include "base/words.h"
#include "case/usual.h"
#include "new/tap_table.h"

#define SIZES_KEY "indoor.coil.sizes_up"

static const char *const help_words[] = {"?", "h", "help", NULL};
static const char *const unknown_words[] = {"-",  "dk",   "don't know", "dont know", "unknown",
                                            "no", "none", "skip",       "n/a",       NULL};

void dialog_pairs(const dialog *d, const arguments *given, arguments *out)
{
    *out = *given;
    for (int i = 0; i < n_questions && out->n_pairs < MAX_PAIRS; i++) {
        if (!d->answer[i][0]) continue;
        snprintf(out->pair[out->n_pairs].key, CT_KEY_PATH, "%s", d->key[i]);
        out->pair[out->n_pairs++].text = strcmp(d->key[i], TAPS_KEY) == 0 ? d->taps : d->answer[i];
    }
}

/* The answer `key` has now, from the command line or a question. */
static const char *known(const arguments *all, const char *key)
{
    char path[CT_KEY_PATH];
    for (int i = 0; i < all->n_pairs; i++) {
        ct_casefile_path(all->pair[i].key, path);
        if (strcmp(path, key) == 0) return all->pair[i].text;
    }
    return NULL;
}

static bool in_list(const char *words, const char *text)
{
    char word[CT_WORD_MAX];
    for (const char *at = words; *at; at += strcspn(at, "|"), at += *at == '|') {
        snprintf(word, sizeof word, "%.*s", (int)strcspn(at, "|"), at);
        if (strcasestr(text, word)) return true;
    }
    return false;
}

/* The answer to the first of "a|b" that has one. */
static const char *first_known(const arguments *all, const char *keys)
{
    char key[CT_KEY_PATH];
    for (const char *at = keys; *at; at += strcspn(at, "|"), at += *at == '|') {
        snprintf(key, sizeof key, "%.*s", (int)strcspn(at, "|"), at);
        const char *answer = known(all, key);
        if (answer) return answer;
    }
    return NULL;
}

static bool is_asked(const question *q, const arguments *given, const arguments *all)
{
    const bool eer = strcmp(q->key, "outdoor.rated_seer") == 0 && known(given, "outdoor.rated_eer");
    if (known(given, q->key) || eer) return false;
    if (q->unless && first_known(all, q->unless)) return false;
    const char *before = q->after ? first_known(all, q->after) : NULL;
    return !q->after || (before && (!q->as || in_list(q->as, before)));
}

/* "35100 Btu/h" as "10.3 kW" for a metric house; what is no quantity stays. Enter still takes the
 * value itself, not its rounding. */
static void metric_text(const question *q, char text[ANSWER_SIZE])
{
    const char *unit = q->unit[1];
    double si, v;
    char number[32];
    if (!unit || strcmp(unit, q->unit[0]) == 0) return;
    if (ct_units_read(text, q->kind, &si, NULL) != CT_OK || !ct_units_to(si, q->kind, unit, &v))
        return;
    const double step = v >= 1000.0 ? 10.0 : v >= 100.0 ? 1.0 : 0.1;
    snprintf(text, ANSWER_SIZE, "%s%s%s",
             ct_number_write(round(v / step) * step, 6, number, sizeof number), ct_units_gap(unit),
             unit);
}

static void usual_text(const question *q, const arguments *all, char text[ANSWER_SIZE])
{
    ct_override over[MAX_PAIRS];
    ct_usual usual[CT_USUAL_MAX];
    for (int i = 0; i < all->n_pairs; i++)
        over[i] = (ct_override){all->pair[i].key, all->pair[i].text, CT_LINE_OF_PAIR};
    const int n = ct_usual_answers(&(ct_overrides){over, all->n_pairs}, usual);
    snprintf(text, ANSWER_SIZE, "%s", q->usual ? q->usual : "not known");
    for (int i = 0; i < n; i++)
        if (strcmp(usual[i].key, q->key) == 0) snprintf(text, ANSWER_SIZE, "%s", usual[i].text);
}

static void show_help(const dialog *d, const question *q)
{
    ct_key_row row;
    for (int i = 0; ct_casefile_key(i, &row); i++) {
        if (strcmp(row.key, q->key) != 0) continue;
        paragraph_wrap_text(d->out, "  ", 4, "%s: %s.", row.key, row.help);
        paragraph_wrap_text(d->out, "  ", 4, "Written as %s%s%s.", row.unit,
                            row.allowed[0] ? "; allowed: " : "", row.allowed);
    }
    fputs("  Enter takes the answer in brackets; - : not known; b: back; q: quit.\n", d->out);
}

static bool is_bare_number(const char *text)
{
    return *text && strspn(text, "0123456789.,-/ ") == strlen(text);
}

/* "one size up", "2 sizes up", "size up"; 0: none of these. */
static int sizes_up(const char *line)
{
    if (!strcasestr(line, "size") || !strcasestr(line, "up")) return 0;
    return strcasestr(line, "two") || strchr(line, '2') ? 2 : 1;
}

/* The answer as people say it: "1 size up", not "1", which would be the size. */
static void say_answer(const char *key, const char *answer, char text[ANSWER_SIZE])
{
    const bool sizes = strcmp(key, SIZES_KEY) == 0;
    snprintf(text, ANSWER_SIZE, "%.*s%s", ANSWER_SIZE - 16, answer,
             !sizes                     ? ""
             : strcmp(answer, "1") == 0 ? " size up"
                                        : " sizes up");
}

/* "y" as "yes", so that what follows from it is asked. */
static void spell_out(const question *q, const char *line, char *text)
{
    const bool yes = prompt_is_word(line, (const char *const[]){"y", NULL});
    const bool no = prompt_is_word(line, (const char *const[]){"n", NULL});
    if (strcmp(q->key, "outdoor.heat_pump.in_use") == 0 && (yes || no))
        snprintf(text, ANSWER_SIZE, "%s", yes ? "yes" : "no");
}

/* Puts the unit behind a bare number, and takes what the trade writes for a few keys: an EER for a
 * SEER, the tons of a coil, the number stamped on a piston (thousandths of an inch). */
static void complete(const dialog *d, const question *q, const char *line, char *key, char *text)
{
    const char *unit = q->unit[d->metric];
    int sizes = 0;
    double bore;
    snprintf(key, CT_KEY_PATH, "%s", q->key);
    snprintf(text, ANSWER_SIZE, "%s", line);
    spell_out(q, line, text);
    if (strcmp(q->key, "indoor.metering.bore") == 0 && ct_casefile_bore(line, &bore))
        snprintf(text, ANSWER_SIZE, "%.6g in", bore / CT_M_PER_IN);
    else if (is_bare_number(line) && unit)
        snprintf(text, ANSWER_SIZE, "%.60s%s%s", line, ct_units_gap(unit), unit);
    if (strcmp(q->key, "outdoor.rated_seer") == 0 && strcasestr(line, "eer") &&
        !strcasestr(line, "seer"))
        snprintf(key, CT_KEY_PATH, "outdoor.rated_eer");
    if (strcmp(q->key, "indoor.coil.size") != 0) return;
    if (strcasestr(line, "ton")) snprintf(key, CT_KEY_PATH, "indoor.coil.tons");
    if ((sizes = sizes_up(line)) == 0) return;
    snprintf(key, CT_KEY_PATH, SIZES_KEY);
    snprintf(text, ANSWER_SIZE, "%d", sizes);
}

/* False: the answer names a tap that is not in the table typed in; the terminal has those that
 * are. */
static bool is_tap(const dialog *d, const char *key, const char *name)
{
    const bool names_tap =
        strcmp(key, "duct.tap") == 0 || strcmp(key, "indoor.blower.heat_tap") == 0;
    const char *between = "";
    char entry[2 * ANSWER_SIZE];
    snprintf(entry, sizeof entry, TAP_BEGINS "%s\"", name);
    if (!names_tap || !d->taps[0] || strstr(d->taps, entry)) return true;
    fputs("  the table has no such tap; it has: ", d->out);
    for (const char *at = d->taps; (at = strstr(at, TAP_BEGINS)); between = ", ") {
        at += strlen(TAP_BEGINS);
        fprintf(d->out, "%s%.*s", between, (int)strcspn(at, "\""), at);
    }
    fputc('\n', d->out);
    return false;
}

/* False: the answer is no possible one, and why is on the terminal. */
static bool take(dialog *d, int i, const char *line)
{
    char key[CT_KEY_PATH], text[ANSWER_SIZE], said[ANSWER_SIZE];
    ct_fault fault;
    complete(d, &questions[i], line, key, text);
    if (ct_casefile_try(key, text, &fault) != CT_OK) {
        fprintf(d->out, "  %s\n", fault.what);
        return false;
    }
    if (!is_tap(d, key, text)) return false;
    say_answer(key, text, said);
    if (strcmp(said, line) != 0) fprintf(d->out, "  %s\n", said);
    memcpy(d->key[i], key, sizeof key);
    memcpy(d->answer[i], text, sizeof text);
    return true;
}

/* The question before i that was asked; i itself when there is none. */
static int before(const dialog *d, const arguments *given, int i)
{
    arguments all;
    dialog_pairs(d, given, &all);
    for (int k = i - 1; k >= 0; k--)
        if (is_asked(&questions[k], given, &all)) return k;
    return i;
}

/* Yes: the table is asked for. Where to go from question i; -1 to quit. */
static int ask_table(dialog *d, int i, const char *line)
{
    const bool yes = line[0] == 'y' || line[0] == 'Y';
    if (!strchr("yYnN", line[0])) {
        fprintf(d->out, "  '%s' given; write yes or no\n", line);
        return i;
    }
    const table_end end = yes ? tap_table_ask(d) : TABLE_DONE;
    d->answer[i][0] = '\0';
    if (end == TABLE_QUIT) return -1;
    if (end == TABLE_BACK) return i;
    if (yes) snprintf(d->answer[i], ANSWER_SIZE, "yes");
    if (yes) snprintf(d->key[i], CT_KEY_PATH, "%s", TAPS_KEY);
    return i + 1;
}

/* Where to go from question i; -1 to quit. */
static int ask(dialog *d, const arguments *given, const arguments *all, int i, const char *own)
{
    char line[ANSWER_SIZE], usual[ANSWER_SIZE], prompt[2 * ANSWER_SIZE + 100];
    usual_text(&questions[i], all, usual);
    if (d->metric) metric_text(&questions[i], usual);
    if (own[0]) say_answer(d->key[i], own, usual);
    snprintf(prompt, sizeof prompt, "%s [%s]: ", questions[i].asks, usual);
    if (!prompt_line(d, prompt, line) || prompt_is_quit(line)) return -1;
    if (prompt_is_back(line)) return before(d, given, i);
    if (prompt_is_word(line, help_words)) {
        show_help(d, &questions[i]);
        return i;
    }
    if (!line[0] && own[0]) { /* what was answered before stands */
        snprintf(d->answer[i], ANSWER_SIZE, "%s", own);
        return i + 1;
    }
    if (!line[0] || prompt_is_word(line, unknown_words)) {
        d->answer[i][0] = '\0';
        return i + 1;
    }
    if (strcmp(questions[i].key, TAPS_KEY) == 0) return ask_table(d, i, line);
    return take(d, i, line) ? i + 1 : i;
}

void dialog_go_to(dialog *d, const char *key)
{
    d->at = 0;
    for (int i = 0; i < n_questions; i++) {
        const size_t n = strlen(questions[i].key);
        if (strncmp(questions[i].key, key, n) != 0 || !strchr(".[", key[n])) continue;
        d->at = i;
        if (strcmp(questions[i].key, TAPS_KEY) == 0) d->answer[i][0] = '\0';
        return;
    }
}

dialog_end dialog_run(dialog *d, const arguments *given)
{
    while (d->at < n_questions) {
        arguments all;
        const int i = d->at;
        char own[ANSWER_SIZE];
        memcpy(own, d->answer[i], sizeof own);
        d->answer[i][0] = '\0'; /* so that the usual answer is not the one being changed */
        dialog_pairs(d, given, &all);
        if (!is_asked(&questions[i], given, &all)) {
            d->at++;
            continue;
        }
        d->at = ask(d, given, &all, i, own);
        if (d->at == i || (d->at >= 0 && d->at < i)) memcpy(d->answer[i], own, sizeof own);
        if (d->at < 0) return DIALOG_QUIT;
    }
    return DIALOG_DONE;
}
