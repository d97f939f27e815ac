#include "case/key_index.h"

#include <assert.h>
#include <string.h>

static bool is_of(const ct_key_section *s, const char *path, size_t length)
{
    return s->length == length && memcmp(s->path, path, length) == 0;
}

static int find_section(const ct_key_index *index, const char *path, size_t length)
{
    /* From the end: in making the index it is mostly the one before. */
    for (int i = index->n_sections - 1; i >= 0; i--)
        if (is_of(&index->section[i], path, length)) return i;
    return -1;
}

static void add(ct_key_index *index, const ct_key *k)
{
    const char *dot = strrchr(k->path, '.');
    const size_t length = dot ? (size_t)(dot - k->path) : 0;
    const int row = index->n, at = find_section(index, k->path, length);
    assert(row < CT_KEY_INDEX_ROWS && index->n_sections < CT_KEY_INDEX_SECTIONS);
    index->n++;
    index->row[row] = k;
    index->next[row] = -1;
    if (at < 0) {
        index->section[index->n_sections++] = (ct_key_section){k->path, length, row, row};
        return;
    }
    index->next[index->section[at].last] = row;
    index->section[at].last = row;
}

void ct_key_index_make(const ct_key_table *keys, ct_key_index *index)
{
    index->n = index->n_sections = 0;
    for (int p = 0; p < keys->n_parts; p++)
        for (int i = 0; i < keys->part[p]->n; i++)
            add(index, &keys->part[p]->row[i]);
}

int ct_key_index_first(const ct_key_index *index, const char *section)
{
    const int at = find_section(index, section, strlen(section));
    return at < 0 ? -1 : index->section[at].first;
}

const ct_key *ct_key_index_child(const ct_key_index *index, const char *section, const char *name)
{
    const size_t length = strlen(section);
    for (int i = ct_key_index_first(index, section); i >= 0; i = index->next[i]) {
        const ct_key *k = index->row[i];
        const char *own = k->path + length + (length > 0);
        if (strcmp(own, name) == 0 || ct_key_goes_by(k, name)) return k;
    }
    return NULL;
}
