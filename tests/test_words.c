/* The nearest word. Distances after Levenshtein 1966, counted by hand. */
#include <string.h>

#include "base/words.h"
#include "check.h"

static void test_distance(void **state)
{
    (void)state;
    char large[80];
    memset(large, 'a', sizeof large - 1);
    large[sizeof large - 1] = '\0';
    check_is("same", ct_words_distance("sweep", "sweep"), ==, 0);
    check_is("kitten and sitting", ct_words_distance("kitten", "sitting"), ==, 3);
    check_is("from nothing", ct_words_distance("", "tune"), ==, 4);
    check_is("both ways", ct_words_distance("tune", ""), ==, 4);
    check_is("longer than compared", ct_words_distance(large, "a"), ==, CT_WORD_MAX);
}

static void test_nearest(void **state)
{
    (void)state;
    static const char *const words[] = {"sweep", "compare", "metering"};
    const char *near = ct_words_nearest("swep", words, 3);
    check_that("one letter missing", near == words[0]);
    check_that("a beginning counts", ct_words_nearest("met", words, 3) == words[2]);
    check_that("none is near", !ct_words_nearest("zzzzzzzz", words, 3));
    check_that("no words", !ct_words_nearest("sweep", words, 0));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_distance),
        cmocka_unit_test(test_nearest),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
