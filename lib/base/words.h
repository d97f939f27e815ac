/* Words: the one that is nearest to what somebody wrote. Public. */
#ifndef CT_BASE_WORDS_H
#define CT_BASE_WORDS_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Longest word whose letters are compared. */
#define CT_WORD_MAX 48

/* Is `a` the first n letters of `word`? Letter case, blanks, hyphens and underscores carry nothing:
 * "r410a" is R-410A. Internal. */
bool ct_words_same(const char *a, const char *word, size_t n);

/* Edits (insert, drop or change one letter) that turn a into b: Levenshtein 1966. CT_WORD_MAX when
 * either is longer than that. */
CT_API int ct_words_distance(const char *a, const char *b);

/* How many edits away a word may be and still be meant: a third of its letters and one. */
CT_API int ct_words_close(const char *word);

/* The word of `words` nearest to `given`, or NULL when none is near. Three letters or more that
 * begin a word are near it. */
CT_API const char *ct_words_nearest(const char *given, const char *const *words, int n);

#ifdef __cplusplus
}
#endif
#endif
