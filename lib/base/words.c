#include "base/words.h"

#include <ctype.h>
#include <string.h>

bool ct_words_same(const char *a, const char *word, size_t n)
{
    static const char free[] = "-_ ";
    const char *end = word + n;
    for (;; a++, word++) {
        while (*a && strchr(free, *a))
            a++;
        while (word < end && strchr(free, *word))
            word++;
        if (word == end || !*a) return word == end && !*a;
        if (tolower((unsigned char)*a) != tolower((unsigned char)*word)) return false;
    }
}

static int smaller(int a, int b)
{
    return a < b ? a : b;
}

int ct_words_distance(const char *a, const char *b)
{
    int row[CT_WORD_MAX + 1];
    const int la = (int)strnlen(a, CT_WORD_MAX + 1), lb = (int)strnlen(b, CT_WORD_MAX + 1);
    if (la > CT_WORD_MAX || lb > CT_WORD_MAX) return CT_WORD_MAX;
    for (int j = 0; j <= lb; j++)
        row[j] = j;
    for (int i = 1; i <= la; i++) {
        int corner = row[0];
        row[0] = i;
        for (int j = 1; j <= lb; j++) {
            const int change = corner + (a[i - 1] != b[j - 1]);
            corner = row[j];
            row[j] = smaller(change, smaller(row[j], row[j - 1]) + 1);
        }
    }
    return row[lb];
}

int ct_words_close(const char *word)
{
    return 1 + (int)strlen(word) / 3;
}

const char *ct_words_nearest(const char *given, const char *const *words, int n)
{
    const char *best = NULL;
    int best_distance = 0;
    const size_t length = strlen(given);
    for (int i = 0; i < n; i++) {
        const bool begins = length >= 3 && strncmp(given, words[i], length) == 0;
        const int distance = begins ? 1 : ct_words_distance(given, words[i]);
        if (best && distance >= best_distance) continue;
        best = words[i];
        best_distance = distance;
    }
    return best && best_distance <= ct_words_close(best) ? best : NULL;
}
