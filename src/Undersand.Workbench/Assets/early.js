// Runs before anything is drawn: puts the theme on, keeps the units of a link, and lets pages and client talk to each other whichever comes first.
(() => {
  const root = document.documentElement;
  const themes = ['light', 'dark', 'night', 'sun'];
  const keep = (name, value) => { document.cookie = `${name}=${encodeURIComponent(value)}; path=/; max-age=31536000; samesite=strict`; };
  const wanted = new URLSearchParams(location.search).get('theme');
  if (wanted && themes.includes(wanted)) { root.dataset.theme = wanted; keep('theme', wanted); }
  if (!themes.includes(root.dataset.theme)) root.dataset.theme = matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light';
  // The server has looked at the link first.
  if (new URLSearchParams(location.search).has('units')) keep('units', root.dataset.units);
  window.undersand = {
    themes,
    keep,
    panel: null,
    attach(panel) { this.panel = panel; document.dispatchEvent(new CustomEvent('us-attached')); },
    detach() { this.panel = null; },
    ask(kind, value) { if (this.panel) this.panel.invokeMethodAsync('Tell', kind, value).catch(() => {}); },
    tell(kind, value) { document.dispatchEvent(new CustomEvent('us-' + kind, { detail: value })); },
    theme(name) { root.dataset.theme = name; keep('theme', name); document.dispatchEvent(new CustomEvent('us-theme', { detail: name })); },
    deck(on) { root.dataset.deck = on ? 'on' : 'off'; keep('deck', on ? 'on' : 'off'); },
    // Numbers of two units never stand beside each other: the page comes anew at its link, which no longer says units of its own.
    units(name) {
      keep('units', name);
      const chosenHere = document.activeElement?.matches('[data-set-units]');
      if (!chosenHere) document.activeElement?.blur();
      this.again(() => {
        const link = new URL(location);
        link.searchParams.delete('units');
        history.replaceState(history.state, '', link);
        if (chosenHere) sessionStorage.setItem('focus', '[data-set-units]');
      });
    },
    // What was written last is on its way; the link is written a moment after the view.
    again(before) {
      setTimeout(() => { try { before(); } catch { /* Then without a word. */ } location.reload(); }, 400);
    },
    // Other results have come: back to the same link, but not while someone writes.
    renew() {
      const notice = document.getElementById('renewed');
      if (notice) { notice.textContent = 'New results have come; the page shows them as soon as nothing is being written or drawn.'; notice.hidden = false; }
      const go = () => {
        if (document.activeElement?.matches('input:not([type=checkbox]), textarea') || document.getElementById('lay')?.hidden === false) { setTimeout(go, 400); return; }
        this.again(() => sessionStorage.setItem('renewed', 'yes'));
      };
      go();
    },
    focus(selector) { document.querySelector(selector)?.focus(); },
    show(selector) { document.querySelector(selector)?.scrollIntoView({ block: 'nearest' }); },
  };
  const once = name => {
    try { const value = sessionStorage.getItem(name); sessionStorage.removeItem(name); return value; } catch { return null; }
  };
  document.addEventListener('DOMContentLoaded', () => {
    const notice = document.getElementById('renewed'), focus = once('focus');
    if (focus) undersand.focus(focus);
    if (!notice || once('renewed') !== 'yes') return;
    notice.textContent = 'New results: the page shows them now.';
    notice.hidden = false;
    setTimeout(() => { notice.hidden = true; }, 12000);
  });
})();
