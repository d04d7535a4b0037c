import type { State } from './state';

/** The panel beneath the plan: one of its views at a time; what a view needs is loaded when it is first opened. */
export function lower(state: State, choose: (id: string) => void): void {
  const panel = document.getElementById('lower')!, opened = new Set<string>();
  const open: Record<string, () => Promise<unknown>> = {
    volume: async () => new (await import('./volume')).VolumeView(state, document.getElementById('volume')!, choose),
    echoes: async () => new (await import('./echoes')).EchoView(state, document.getElementById('echoes') as HTMLCanvasElement),
  };
  const show = () => {
    const { low } = state.view;
    for (const part of panel.querySelectorAll<HTMLElement>('[data-part]')) part.hidden = !part.dataset['part']!.split(' ').includes(low);
    for (const b of panel.querySelectorAll<HTMLElement>('[data-low]')) b.setAttribute('aria-pressed', String(b.dataset['low'] === low));
    if (opened.has(low)) return;
    opened.add(low);
    void open[low]?.();
  };
  panel.addEventListener('click', e => {
    const button = e.target instanceof Element ? e.target.closest<HTMLElement>('[data-low]') : null;
    if (button) state.set({ low: button.dataset['low']! });
  });
  state.on(changed => { if (changed.has('low')) show(); });
  show();
}
