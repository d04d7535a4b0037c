import type { Quantity } from './survey';

/** A legend in words and numbers; where values go down, so do the numbers. */
export function legend(box: HTMLElement, q: Quantity | undefined, version: string): void {
  box.replaceChildren();
  box.hidden = !q;
  if (!q) return;
  const title = document.createElement('p'), body = document.createElement('div'), bar = document.createElement('img'), ticks = document.createElement('div');
  title.textContent = q.title;
  title.title = q.meaning;
  bar.src = `/legend/${q.name}.png?v=${encodeURIComponent(version)}`;
  bar.alt = '';
  bar.className = 'bar-colours';
  body.className = 'legend-body';
  ticks.className = 'legend-ticks';
  for (const tick of q.ticks) {
    const label = document.createElement('span'), share = (tick - q.low) / (q.high - q.low);
    label.textContent = String(tick).replace('-', '−');
    label.style.top = `${100 * (q.downwards ? share : 1 - share)}%`;
    ticks.append(label);
  }
  body.append(bar, ticks);
  box.append(title, body);
  box.setAttribute('role', 'img');
  box.setAttribute('aria-label', `${q.title}: from ${+q.low.toFixed(2)} to ${+q.high.toFixed(2)}${q.downwards ? ', downwards' : ''}. ${q.meaning}`);
}
