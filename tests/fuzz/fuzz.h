/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the fuzz targets share. */
#pragma once

#include <glib.h>

#include <stddef.h>
#include <stdint.h>

int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);
int LLVMFuzzerInitialize (int *argc, char ***argv);

/* A file in memory that holds the bytes, by a path; the same one at each call. Borrowed. */
const char *fuzz_file (const uint8_t *data, size_t size);
/* A refusal has to say something; then it is freed. */
void fuzz_check_error (GError *error);
