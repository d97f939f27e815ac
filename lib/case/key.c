#include "case/key.h"

#include <stdio.h>
#include <string.h>

#include "base/words.h"

const ct_key *ct_key_at(const ct_key_table *keys, int i)
{
    for (int p = 0; p < keys->n_parts && i >= 0; p++) {
        if (i < keys->part[p]->n) return &keys->part[p]->row[i];
        i -= keys->part[p]->n;
    }
    return NULL;
}

bool ct_key_public(const ct_key_table *keys, int i, ct_key_row *row)
{
    const ct_key *k = ct_key_at(keys, i);
    if (!k) return false;
    row->key = k->path;
    row->unit = k->unit_text;
    row->allowed = k->allowed_text ? k->allowed_text : "";
    row->when = k->when_text;
    row->also = k->also ? k->also : "";
    row->brief = k->brief ? k->brief : "";
    row->help = k->help;
    return true;
}

const ct_key *ct_key_find(const ct_key_table *keys, const char *path)
{
    for (int p = 0; p < keys->n_parts; p++)
        for (int i = 0; i < keys->part[p]->n; i++) {
            const ct_key *k = &keys->part[p]->row[i];
            if (k->path[0] == path[0] && strcmp(k->path, path) == 0) return k;
        }
    return NULL;
}

const char *ct_key_child_name(const ct_key *k, const char *section)
{
    /* Asked of every key for every line of a file, and most differ in the first letters. */
    const char *name = k->path, *s = section;
    for (; *s && *s == *name; s++)
        name++;
    if (*s || (*section && *name != '.')) return NULL;
    name += *section != '\0';
    return strchr(name, '.') ? NULL : name;
}

static int place_of(const char *words, const char *text, size_t length)
{
    char word[64];
    snprintf(word, sizeof word, "%.*s", (int)length, text);
    for (int i = 0; words; i++) {
        const size_t n = strcspn(words, "|");
        if (ct_words_same(word, words, n)) return i;
        words = words[n] ? words + n + 1 : NULL;
    }
    return CT_NO_WORD;
}

int ct_key_word(const ct_key *k, const char *text, const char **meant)
{
    const int i = strlen(text) < 64 ? place_of(k->words, text, strlen(text)) : CT_NO_WORD;
    if (i != CT_NO_WORD) return i;
    for (const char *at = k->also; at && *at; at += strcspn(at, "|"), at += *at == '|') {
        const size_t all = strcspn(at, "|");
        const size_t n = strcspn(at, "=|");
        if (n == all || !ct_words_same(text, at, n)) continue;
        if (meant) *meant = at + n + 1;
        if (memchr(at, ',', all)) return CT_MANY_WORDS;
        return place_of(k->words, at + n + 1, all - n - 1);
    }
    return CT_NO_WORD;
}

/* A name in `also` without '=' is the key's own. */
bool ct_key_goes_by(const ct_key *k, const char *name)
{
    for (const char *at = k->also; at && *at; at += strcspn(at, "|"), at += *at == '|') {
        const size_t n = strcspn(at, "|");
        if (!memchr(at, '=', n) && strlen(name) == n && strncmp(at, name, n) == 0) return true;
    }
    return false;
}

const ct_key *ct_key_child(const ct_key_table *keys, const char *section, const char *name)
{
    const ct_key *k;
    for (int i = 0; (k = ct_key_at(keys, i)) != NULL; i++) {
        const char *child = ct_key_child_name(k, section);
        if (child && (strcmp(child, name) == 0 || ct_key_goes_by(k, name))) return k;
    }
    return NULL;
}

/* As much of the text as fits behind the first n bytes. Returns the new length. */
static size_t append(char path[CT_PATH_SIZE], size_t n, const char *text)
{
    const size_t length = strnlen(text, CT_PATH_SIZE - 1 - n);
    memcpy(path + n, text, length);
    path[n + length] = '\0';
    return n + length;
}

void ct_key_path_join(char path[CT_PATH_SIZE], const char *section, const char *name)
{
    size_t n = append(path, 0, section);
    if (n > 0) n = append(path, n, ".");
    append(path, n, name);
}

void ct_key_path_item(char path[CT_PATH_SIZE], const char *list, int i)
{
    snprintf(path, CT_PATH_SIZE, "%s[%d]", list, i + 1);
}

/* The row of `section` (NULL: of any section) whose last part is nearest to name. */
static const ct_key *nearest(const ct_key_table *keys, const char *section, const char *name,
                             int *edits)
{
    const ct_key *best = NULL;
    const ct_key *k;
    for (int i = 0; (k = ct_key_at(keys, i)) != NULL; i++) {
        const char *last = strrchr(k->path, '.');
        const char *word = section ? ct_key_child_name(k, section) : (last ? last + 1 : k->path);
        const int d = word ? ct_words_distance(name, word) : CT_WORD_MAX;
        if (d < *edits) {
            *edits = d;
            best = k;
        }
    }
    return best;
}

/* The short name less than `edits` from `name`; it may be followed by '|' and others. NULL:
 * none. */
static const char *nearest_brief(const ct_key_table *keys, const char *name, int edits)
{
    const char *best = NULL;
    const ct_key *k;
    for (int i = 0; (k = ct_key_at(keys, i)) != NULL; i++)
        for (const char *at = k->brief; at && *at; at += strcspn(at, "|"), at += *at == '|') {
            char word[CT_WORD_MAX];
            snprintf(word, sizeof word, "%.*s", (int)strcspn(at, "|"), at);
            const bool begins = strlen(name) >= 3 && strncmp(name, word, strlen(name)) == 0;
            const int d = begins ? 0 : ct_words_distance(name, word);
            if (d >= edits) continue;
            edits = d;
            best = at;
        }
    return best;
}

/* The key of `section` that has name as one of its words: "rated_capacity" for "capacity". */
static const ct_key *with_word(const ct_key_table *keys, const char *section, const char *name)
{
    const size_t n = strlen(name);
    const ct_key *k;
    for (int i = 0; n > 0 && (k = ct_key_at(keys, i)) != NULL; i++) {
        const char *word = ct_key_child_name(k, section);
        for (const char *at = word ? strstr(word, name) : NULL; at; at = strstr(at + 1, name))
            if ((at == word || at[-1] == '_') && (at[n] == '_' || at[n] == '\0')) return k;
    }
    return NULL;
}

static void list_section(const ct_key_table *keys, const char *section, char *text, size_t size)
{
    size_t n = (size_t)snprintf(text, size, "no such key; known here:");
    const ct_key *k;
    for (int i = 0; n < size && (k = ct_key_at(keys, i)) != NULL; i++) {
        const char *word = ct_key_child_name(k, section);
        if (word) n += (size_t)snprintf(text + n, size - n, " %s", word);
    }
}

static bool is_section(const ct_key *k)
{
    return k->type == CT_KEY_SECTION || k->type == CT_KEY_LIST || k->type == CT_KEY_LINE;
}

/* A value whose path ends in `name`, or that goes by it. */
static bool is_namesake(const ct_key *k, const char *name)
{
    const char *last = strrchr(k->path, '.');
    if (is_section(k) || strchr(k->path, '[')) return false;
    return (last && strcmp(last + 1, name) == 0) || ct_key_goes_by(k, name);
}

/* The values that a bare word could mean, when they are several: "indoor.price or season.price". */
static bool list_namesakes(const ct_key_table *keys, const char *name, char *text, size_t size)
{
    const ct_key *k;
    int found = 0;
    size_t n = (size_t)snprintf(text, size, "more than one key has this name; write ");
    for (int i = 0; n < size && (k = ct_key_at(keys, i)) != NULL; i++) {
        if (!is_namesake(k, name)) continue;
        n += (size_t)snprintf(text + n, size - n, "%s%s", found++ ? " or " : "", k->path);
    }
    return found > 1;
}

/* A pair's word that is the name of a section or a key elsewhere: it needs its path. */
static bool give_path(const ct_key_table *keys, const char *name, char *text, size_t size)
{
    int edits = 1;
    if (list_namesakes(keys, name, text, size)) return true;
    const ct_key *k = nearest(keys, NULL, name, &edits);
    if (!k || strchr(k->path, '[')) return false;
    snprintf(text, size, "no such key here; it belongs at '%s' (%s)", k->path,
             is_section(k) ? "a section: write one of its keys with that name before it"
                           : "write it with that name");
    return true;
}

/* A pair's word that is one of the words of a key: piston=... for metering=piston. */
static bool give_word(const ct_key_table *keys, const char *name, char *text, size_t size)
{
    const ct_key *k;
    for (int i = 0; (k = ct_key_at(keys, i)) != NULL; i++) {
        if (!k->words || !k->brief || ct_key_word(k, name, NULL) == CT_NO_WORD) continue;
        snprintf(text, size, "no such key; did you mean '%.*s=%s'?%s", (int)strcspn(k->brief, "|"),
                 k->brief, name,
                 strcmp(k->path, "indoor.metering.kind") == 0 ? " the size of a piston is 'bore'"
                                                              : "");
        return true;
    }
    return false;
}

void ct_key_suggest(const ct_key_table *keys, const char *section, const char *name, bool pair,
                    char *text, size_t size)
{
    if (pair && !*section &&
        (give_path(keys, name, text, size) || give_word(keys, name, text, size)))
        return;
    int edits = ct_words_close(name) + 1;
    const ct_key *k = nearest(keys, section, name, &edits);
    const char *brief = *section ? NULL : nearest_brief(keys, name, edits);
    if (brief) {
        snprintf(text, size, "no such key; did you mean '%.*s'?", (int)strcspn(brief, "|"), brief);
        return;
    }
    if (k) {
        snprintf(text, size, "no such key; did you mean '%s'?", ct_key_child_name(k, section));
        return;
    }
    k = with_word(keys, section, name);
    if (k) {
        snprintf(text, size, "no such key; did you mean '%s'?", ct_key_child_name(k, section));
        return;
    }
    edits = 1; /* elsewhere only the very word counts */
    k = nearest(keys, NULL, name, &edits);
    if (k)
        snprintf(text, size, "no such key here; it belongs at '%s' (%s)", k->path,
                 pair ? "write it with that name" : "check the indentation");
    else
        list_section(keys, section, text, size);
}

/* Whether `name` is one of the words of a list such as "static|esp". */
static bool is_one_of(const char *words, const char *name)
{
    for (const char *at = words; at && *at; at += strcspn(at, "|"), at += *at == '|') {
        const size_t n = strcspn(at, "|");
        if (strlen(name) == n && strncmp(at, name, n) == 0) return true;
    }
    return false;
}

/* The key a bare word means: by short name, else the only value whose path ends in it. */
static const ct_key *by_bare_name(const ct_key_table *keys, const char *name)
{
    const ct_key *k, *only = NULL;
    int n = 0;
    for (int i = 0; (k = ct_key_at(keys, i)) != NULL; i++)
        if (is_one_of(k->brief, name)) return k;
    for (int i = 0; (k = ct_key_at(keys, i)) != NULL; i++) {
        if (!is_namesake(k, name)) continue;
        only = k;
        n++;
    }
    return n == 1 ? only : NULL;
}

void ct_key_own_path(const ct_key_table *keys, const char *given, char path[CT_PATH_SIZE])
{
    const char *dot = strrchr(given, '.');
    const char *name = dot ? dot + 1 : given;
    const ct_key *k = dot ? NULL : by_bare_name(keys, name);
    snprintf(path, CT_PATH_SIZE, "%s", k ? k->path : given);
    for (int i = 0; dot && (k = ct_key_at(keys, i)) != NULL; i++) {
        if (!ct_key_goes_by(k, name)) continue;
        const char *own = strrchr(k->path, '.');
        snprintf(path, CT_PATH_SIZE, "%.*s%s", (int)(name - given), given, own ? own + 1 : k->path);
        return;
    }
}

bool ct_key_knows(const ct_key_table *keys, const char *path, char *text, size_t size)
{
    const char *section = "";
    for (const char *at = path;;) {
        char name[CT_PATH_SIZE];
        const size_t length = strcspn(at, ".[");
        snprintf(name, sizeof name, "%.*s", (int)length, at);
        const ct_key *k = ct_key_child(keys, section, name);
        if (!k) {
            ct_key_suggest(keys, section, name, true, text, size);
            return false;
        }
        if (at[length] && !is_section(k) && k->type != CT_KEY_NUMBERS) {
            snprintf(text, size, "'%s' is a value and has no keys of its own", k->path);
            return false;
        }
        at += strcspn(at, ".");
        if (!*at++) return true;
        section = k->item ? k->item : k->path;
    }
}
