import type { EchoView } from './echoes';
import type { State } from './state';

/** The panel beneath the plan: one of its views at a time; what a view needs is loaded when it is first opened. Gives what begins to lay the seabed over the echoes, where this device may. */
export function lower(state: State, choose: (id: string) => void): () => Promise<void> {
  const panel = document.getElementById('lower')!, opened = new Map<string, Promise<unknown> | undefined>();
  const open: Record<string, () => Promise<unknown>> = {
    volume: async () => new (await import('./volume')).VolumeView(state, document.getElementById('volume')!, choose),
    echoes: async () => new (await import('./echoes')).EchoView(state, document.getElementById('echoes') as HTMLCanvasElement),
  };
  const show = () => {
    const { low } = state.view;
    for (const part of panel.querySelectorAll<HTMLElement>('[data-part]')) part.hidden = !part.dataset['part']!.split(' ').includes(low);
    for (const b of panel.querySelectorAll<HTMLElement>('[data-low]')) b.setAttribute('aria-pressed', String(b.dataset['low'] === low));
    if (!opened.has(low)) opened.set(low, open[low]?.());
  };
  panel.addEventListener('click', e => {
    const button = e.target instanceof Element ? e.target.closest<HTMLElement>('[data-low]') : null;
    if (button) state.set({ low: button.dataset['low']! });
  });
  state.on(changed => { if (changed.has('low')) show(); });
  show();
  return async () => {
    if (!document.getElementById('echo-lay')) return;
    state.set({ low: 'echoes' });
    (await opened.get('echoes') as EchoView).laying.toggle();
  };
}
