/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of work share: a library in a folder of its own, and photos made on the spot. */
#pragma once

#include "ws-desk.h"

typedef struct
{
  char *folder;      /* of the test; removed by test_end() */
  char *photos;      /* FOLDER/photos */
  WsDesk *desk;
} TestDesk;

TestDesk test_begin (void);
void test_end (TestDesk *test);

/* Writes a JPEG of an invented scene that depends on @seed, of @width x @width * 3 / 4 px. @taken (nullable): "2025-10-04T14:03:22";
 * @lat NAN: no position. (transfer full): its path */
char *test_photo (TestDesk *test, const char *name, guint seed, int width, const char *taken, double lat, double lon);
/* All finds as text: "25-001: a.jpg b.jpg | 25-002: c.jpg / unsorted: d.jpg". (transfer full) */
char *test_finds_text (TestDesk *test);
/* The find whose number it is. (transfer full) */
WsFind *test_find (TestDesk *test, const char *number);
/* Id of the photo with that file name. (transfer full) */
char *test_photo_id (TestDesk *test, const char *name);
/* Imports the folder and makes finds with the default rule. */
void test_import (TestDesk *test);
/* Fills a new library @library with one find of @n photos a minute apart, which lie in @folder/photos. */
void test_fill_library (const char *folder, const char *library, guint n);
