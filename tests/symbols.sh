#!/bin/sh
# The functions and data a shared library exports, sorted: symbols.sh LIBRARY
nm -D --defined-only "$1" | awk '{ print $3 }' | LC_ALL=C sort
