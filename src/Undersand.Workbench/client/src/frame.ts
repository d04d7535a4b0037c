/** What every page has: themes, deck mode, units, the page of keys, and waking up again. */
export function frame(): void {
  const root = document.documentElement;
  const show = () => {
    for (const b of document.querySelectorAll<HTMLElement>('[data-set-theme]')) b.setAttribute('aria-pressed', String(b.dataset['setTheme'] === root.dataset['theme']));
    document.querySelector('[data-set-deck]')?.setAttribute('aria-pressed', String(root.dataset['deck'] === 'on'));
  };
  document.addEventListener('click', e => {
    const at = e.target instanceof Element ? e.target : null, theme = at?.closest<HTMLElement>('[data-set-theme]'), deck = at?.closest('[data-set-deck]');
    if (theme) undersand.theme(theme.dataset['setTheme']!);
    if (deck) undersand.deck(root.dataset['deck'] !== 'on');
    if (at?.closest('[data-help]')) help()?.showModal();
    if (theme || deck) show();
  });
  document.addEventListener('change', e => { if (e.target instanceof HTMLSelectElement && e.target.matches('[data-set-units]')) undersand.units(e.target.value); });
  document.addEventListener('us-theme', show);
  show();
  watch();
}

export function help(): HTMLDialogElement | null { return document.getElementById('help') as HTMLDialogElement | null; }

// When the server has been away, the page starts over at the link it has: nothing of value lives in the connection.
function watch(): void {
  const notice = document.getElementById('components-reconnect-modal');
  if (!notice) return;
  const again = async () => {
    try { if ((await fetch('/alive', { cache: 'no-store' })).ok) { location.reload(); return; } } catch { /* Still away. */ }
    setTimeout(again, 2000);
  };
  let trying = false;
  new MutationObserver(() => {
    const away = /components-reconnect-(failed|rejected)/.test(notice.className);
    if (away && !trying) { trying = true; void again(); }
  }).observe(notice, { attributes: true, attributeFilter: ['class'] });
}
