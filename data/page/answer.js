// SPDX-License-Identifier: GPL-3.0-or-later
// The form for the answer on the page of a request. It asks no network for anything; what is filled in is kept in this browser
// until it is saved, and the answer leaves as a file or as a block of text for a mail.
(() => {
  'use strict';
  const data = JSON.parse(document.getElementById('data').textContent);
  const texts = data.texts;
  const $ = (id) => document.getElementById(id);
  const form = $('answer');
  const key = 'wholestem-answer-' + data.request;
  const wished = {};                       // view -> part that was chosen on the figure
  let id = null;                           // of the answer; a changed answer gets a new one

  // --- Keeping what is filled in: storage, and the history entry where a browser allows no storage -------

  const keep = (state) => {
    try { localStorage.setItem(key, JSON.stringify(state)); } catch (e) { /* the entry below still holds it */ }
    try { history.replaceState({ [key]: state }, ''); } catch (e) { /* then only the storage */ }
  };
  const kept = () => {
    try {
      const text = localStorage.getItem(key);
      if (text) return JSON.parse(text);
    } catch (e) { /* look further */ }
    return history.state && history.state[key] || null;
  };

  // --- Opinions -------------------------------------------------------------------------------------------

  const addReason = (opinion, reason) => {
    const row = $('reason').content.firstElementChild.cloneNode(true);
    row.querySelector('.why').value = reason ? reason.text : '';
    row.querySelector('.seen').value = reason ? reason.seen : '';
    opinion.querySelector('.reasons').append(row);
    return row;
  };
  const addOpinion = (opinion) => {
    const set = $('opinion').content.firstElementChild.cloneNode(true);
    for (const field of ['name', 'qualifier', 'certainty', 'on'])
      if (opinion) set.querySelector('.' + field).value = opinion[field];
    for (const reason of opinion ? opinion.reasons : [null]) addReason(set, reason);
    set.querySelector('.more').addEventListener('click', () => addReason(set).querySelector('.why').focus());
    set.querySelector('.remove').addEventListener('click', () => { set.remove(); changed(); $('add-opinion').focus(); });
    $('opinions').append(set);
    return set;
  };
  const opinions = () => [...form.querySelectorAll('.opinion')].map((set) => ({
    name: set.querySelector('.name').value.trim(),
    qualifier: set.querySelector('.qualifier').value,
    certainty: set.querySelector('.certainty').value,
    on: set.querySelector('.on').value,
    reasons: [...set.querySelectorAll('.reason')].map((row) => ({
      text: row.querySelector('.why').value.trim(), seen: row.querySelector('.seen').value }))
  }));

  // The sign of doubt where the trade writes it: cf. and aff. before the epithet, the others behind.
  const qualified = (name, qualifier) => {
    const words = name.split(/\s+/);
    if (!qualifier || !name) return name;
    if (qualifier === 'sp.') return words[0] + ' sp.';
    if (qualifier === '?' || qualifier === 'agg.' || words.length < 2) return name + ' ' + qualifier;
    return [words[0], qualifier, ...words.slice(1)].join(' ');
  };

  // --- Wishes: ticks, and parts of the figure ----------------------------------------------------------------

  const ticks = [...form.querySelectorAll('input.wish')];
  const tickOf = (view) => ticks.find((tick) => tick.dataset.view === view);
  const drawWishes = () => {
    for (const path of form.querySelectorAll('svg [data-part]')) {
      const views = data.partViews[path.dataset.part] || [];
      path.classList.toggle('wished', views.some((view) => tickOf(view) && tickOf(view).checked));
    }
  };
  for (const path of form.querySelectorAll('svg [data-part]'))
    path.addEventListener('click', () => {
      const part = path.dataset.part;
      const view = (data.partViews[part] || []).find(tickOf);
      if (!view) return;
      tickOf(view).checked = !tickOf(view).checked;
      if (tickOf(view).checked) wished[view] = part; else delete wished[view];
      changed();
    });

  // --- State ---------------------------------------------------------------------------------------------------

  const flags = ['phone', 'deadly', 'cannot'].filter((flag) => $(flag));
  const fields = ['wish-text', 'remarks', 'by'];
  const state = () => ({
    flags: Object.fromEntries(flags.map((flag) => [flag, $(flag).checked])),
    fields: Object.fromEntries(fields.map((field) => [field, $(field).value])),
    opinions: opinions(),
    views: ticks.filter((tick) => tick.checked && tick.dataset.view).map((tick) => tick.dataset.view),
    characters: ticks.filter((tick) => tick.checked && tick.dataset.character).map((tick) => tick.dataset.character),
    wished: { ...wished }
  });
  const restore = (was) => {
    for (const flag of flags) $(flag).checked = Boolean(was.flags[flag]);
    for (const field of fields) $(field).value = was.fields[field] || '';
    for (const tick of ticks)
      tick.checked = was.views.includes(tick.dataset.view) || was.characters.includes(tick.dataset.character);
    Object.assign(wished, was.wished);
    $('opinions').replaceChildren();
    for (const opinion of was.opinions) addOpinion(opinion);
  };
  const changed = () => {
    id = null;
    $('text-box').hidden = true;
    drawWishes();
    keep(state());
  };

  // --- The answer -------------------------------------------------------------------------------------------------

  const uuid = () => {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = bytes[6] & 0x0f | 0x40;
    bytes[8] = bytes[8] & 0x3f | 0x80;
    const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
    return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, '$1-$2-$3-$4-$5');
  };
  const word = (table, which) => which ? { id: which, text: data[table][which] || which } : null;
  const reasonOf = (reason) => {
    const [kind, seen] = reason.seen.split(' ');
    const mark = kind === 'mark' ? data.marks[seen] : null;
    return { text: reason.text, photo: mark ? mark.photo : kind === 'photo' ? seen : null, mark: mark ? seen : null,
             part: mark ? word('parts', mark.part) : null };
  };
  const answerOf = (now) => ({
    format: '0.1',
    kind: 'answer',
    id: id || (id = uuid()),
    replaces: null,
    request: data.request,
    requestSha512: data.requestSha512,
    made: new Date().toISOString().replace(/\.\d+Z$/, 'Z'),
    language: data.language,
    by: now.fields.by.trim(),
    opinions: now.opinions.filter((opinion) => opinion.name).map((opinion) => ({
      name: qualified(opinion.name, opinion.qualifier), certainty: opinion.certainty, on: opinion.on,
      reasons: opinion.reasons.filter((reason) => reason.text || reason.seen).map(reasonOf) })),
    cannotName: now.flags.cannot,
    deadly: now.flags.deadly,
    phonePoisonService: Boolean(now.flags.phone),
    wishes: [
      ...now.views.map((view) => ({ view: word('views', view), character: null, part: word('parts', now.wished[view]), text: '' })),
      ...now.characters.map((character) => ({ view: null, character: word('characters', character), part: null, text: '' })),
      ...(now.fields['wish-text'].trim() ? [{ view: null, character: null, part: null, text: now.fields['wish-text'].trim() }] : [])
    ],
    remarks: now.fields.remarks.trim()
  });
  const isEmpty = (answer) => !answer.opinions.length && !answer.cannotName && !answer.deadly && !answer.phonePoisonService
    && !answer.wishes.length && !answer.remarks;

  // What the answer says, for a reader without any program.
  const inWords = (answer) => {
    const lines = [texts.number + ' ' + data.number + ', ' + texts.code + ' ' + data.code];
    if (answer.phonePoisonService) lines.push(texts.quick_phone);
    if (answer.deadly) lines.push(texts.quick_deadly);
    for (const opinion of answer.opinions) {
      lines.push(texts.quick_think.replace(/\s*…\s*$/, '') + ' ' + opinion.name + ' (' + texts['form_' + opinion.certainty] + ')');
      for (const reason of opinion.reasons)
        lines.push('  - ' + [reason.text, reason.part && '(' + texts.form_seen_on + ' ' + reason.part.text + ')'].filter(Boolean).join(' '));
    }
    if (answer.cannotName) lines.push(texts.quick_cannot);
    if (answer.wishes.length)
      lines.push(texts.form_wishes + ':', ...answer.wishes.map((wish) => '  - ' + [wish.view, wish.character].filter(Boolean)
        .map((which) => which.text).concat(wish.text || []).join(' ')));
    if (answer.remarks) lines.push(texts.form_remarks + ': ' + answer.remarks);
    if (answer.by) lines.push(texts.form_by + ': ' + answer.by);
    return lines.join('\n');
  };

  // CRC-32 as in zip files (ISO 3309): what a mail damages is noticed.
  const crc32 = (bytes) => {
    let crc = ~0;
    for (const byte of bytes) {
      crc ^= byte;
      for (let bit = 0; bit < 8; bit++) crc = crc >>> 1 ^ (crc & 1 ? 0xedb88320 : 0);
    }
    return (~crc >>> 0).toString(16).padStart(8, '0');
  };
  const blockOf = (answer) => {
    const bytes = new TextEncoder().encode(JSON.stringify(answer));
    const base64 = btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
    return [inWords(answer), '', texts.form_whole, '-----BEGIN WHOLESTEM ANSWER-----', ...base64.match(/.{1,64}/g),
            'crc32 ' + crc32(bytes), '-----END WHOLESTEM ANSWER-----', ''].join('\n');
  };

  // --- Buttons -------------------------------------------------------------------------------------------------------

  const say = (text) => { $('said').textContent = text; };
  const filled = () => {
    const answer = answerOf(state());
    if (!isEmpty(answer)) return answer;
    say(texts.form_nothing);
    return null;
  };
  $('save').addEventListener('click', () => {
    const answer = filled();
    if (!answer) return;
    const link = document.createElement('a');
    const url = URL.createObjectURL(new Blob([JSON.stringify(answer, null, 1) + '\n'], { type: 'application/json' }));
    link.href = url;
    link.download = 'answer ' + (data.number + ' ' + data.code).replace(/[^\p{L}\p{N} .-]/gu, '-') + '.json';
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(url), 60000);
    say(texts.form_saved);
  });
  $('as-text').addEventListener('click', () => {
    const answer = filled();
    if (!answer) return;
    $('text').value = blockOf(answer);
    $('text-box').hidden = false;
    $('text').focus();
    $('text').select();
    say('');
  });
  $('copy').addEventListener('click', () => {
    $('text').select();
    const copied = () => say(texts.form_copied);
    if (navigator.clipboard) navigator.clipboard.writeText($('text').value).then(copied, () => { document.execCommand('copy'); copied(); });
    else { document.execCommand('copy'); copied(); }
  });
  $('add-opinion').addEventListener('click', () => addOpinion().querySelector('.name').focus());
  const quick = {
    phone: () => { $('phone').checked = true; return $('save'); },
    cannot: () => { $('cannot').checked = true; return ticks[0] || $('remarks'); },
    deadly: () => {
      $('deadly').checked = true;
      if (tickOf('v_base')) tickOf('v_base').checked = true;
      return $('save');
    },
    think: () => (form.querySelector('.opinion') || addOpinion()).querySelector('.name')
  };
  for (const link of document.querySelectorAll('[data-quick]')) {
    link.setAttribute('role', 'button');
    link.removeAttribute('href');
    link.tabIndex = 0;
    const act = (event) => {
      event.preventDefault();
      const next = quick[link.dataset.quick]();
      changed();
      form.scrollIntoView();
      next.focus();
    };
    link.addEventListener('click', act);
    link.addEventListener('keydown', (event) => { if (event.key === 'Enter' || event.key === ' ') act(event); });
  }
  form.addEventListener('input', changed);

  const was = kept();
  if (was) {
    try {
      restore(was);
      say(texts.form_kept);
    } catch (e) { /* of another page: begin anew */ }
  }
  if (!form.querySelector('.opinion')) addOpinion();
  form.hidden = false;
  drawWishes();
})();
