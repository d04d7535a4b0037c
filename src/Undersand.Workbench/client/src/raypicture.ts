import type { Block } from './bricks';
import type { Rays, Shown } from './gaze';

const corners = `#version 300 es
void main() { gl_Position = vec4(gl_VertexID == 1 ? 3.0 : -1.0, gl_VertexID == 2 ? 3.0 : -1.0, 0.0, 1.0); }`;

// One ray a pixel. Slices and greatest values are the voxels' own entries; only the surface is drawn between voxels.
// Slanting lines where nobody looked: on slices where the voxel has no data, elsewhere where the ray met nothing but such (for surfaces: mostly such).
const rays = `#version 300 es
precision highp float;
precision highp int;
precision highp sampler3D;
uniform sampler3D voxels, between;
uniform sampler2D colours;
uniform vec3 origin, right, up, along, low, high, planes, rule;
uniform float pixel, at;
uniform bool slices, greatest, surface;
out vec4 colour;

int entryAt(ivec3 cell) { return int(texelFetch(voxels, cell, 0).r * 255.0 + 0.5); }
float value(vec3 p) { return texture(between, p / vec3(textureSize(between, 0))).r * 255.0; }
vec3 ink(int entry) { return texelFetch(colours, ivec2(entry, 0), 0).rgb; }
bool slanting() { return mod((gl_FragCoord.x - gl_FragCoord.y) * pixel, 12.0) < 1.2; }
vec4 unseen() { return slanting() ? vec4(rule, 1.0) : vec4(0.0); }
ivec3 cellAt(vec3 p) { return ivec3(clamp(floor(p), floor(low), ceil(high) - 1.0)); }

void main() {
  vec2 here = gl_FragCoord.xy * pixel;
  vec3 o = origin + right * here.x + up * here.y, d = along;
  d = mix(d, vec3(1e-7), lessThan(abs(d), vec3(1e-7)));
  vec3 a = (low - o) / d, b = (high - o) / d, first = min(a, b), last = max(a, b);
  float t0 = max(max(first.x, first.y), first.z), t1 = min(min(last.x, last.y), last.z);
  colour = vec4(0.0);
  if (t0 >= t1) return;
  float far = t1 + 1e-4;
  int on = -1;
  if (slices) {
    vec3 t = (planes - o) / d;
    for (int i = 0; i < 3; i++) if (t[i] >= t0 - 1e-4 && t[i] < far) { far = t[i]; on = i; }
  }
  if (greatest) {
    ivec3 cell = cellAt(o + d * (t0 + 1e-4)), to = ivec3(sign(d));
    vec3 next = (vec3(cell) + max(vec3(to), 0.0) - o) / d, each = abs(1.0 / d);
    int most = 0;
    for (int i = 0; i < 800; i++) {
      most = max(most, entryAt(cell));
      int axis = next.x < next.y ? (next.x < next.z ? 0 : 2) : (next.y < next.z ? 1 : 2);
      if (next[axis] >= t1) break;
      cell[axis] += to[axis];
      next[axis] += each[axis];
    }
    colour = most == 0 ? unseen() : vec4(ink(most), 1.0);
    return;
  }
  if (surface) {
    float step = 0.5 / length(d), before = t0;
    int samples = 0, blank = 0;
    for (int i = 0; i < 1600; i++) {
      float t = t0 + step * float(i);
      if (t >= far) break;
      float v = value(o + d * t);
      samples++;
      if (v < 0.5) blank++;
      if (v >= at) {
        vec3 p = o + d * t;
        if (i == 0) { colour = vec4(ink(entryAt(cellAt(p + d * 1e-3))), 1.0); return; }
        float within = t;
        for (int k = 0; k < 6; k++) { float middle = 0.5 * (before + within); if (value(o + d * middle) >= at) within = middle; else before = middle; }
        p = o + d * within;
        vec3 n = vec3(value(p + vec3(1, 0, 0)) - value(p - vec3(1, 0, 0)), value(p + vec3(0, 1, 0)) - value(p - vec3(0, 1, 0)), value(p + vec3(0, 0, 1)) - value(p - vec3(0, 0, 1)));
        float light = 0.4 + 0.6 * abs(dot(normalize(n + 1e-6), normalize(d / length(d) + vec3(0.3, 0.2, 0.5))));
        colour = vec4(ink(int(at + 0.5)) * light, 1.0);
        return;
      }
      before = t;
    }
    if (on < 0) { if (2 * blank > samples) colour = unseen(); return; }
  }
  if (on >= 0) {
    vec3 p = o + d * far;
    p[on] = planes[on];
    int entry = entryAt(cellAt(p));
    colour = entry == 0 ? unseen() : vec4(ink(entry), 1.0);
  }
}`;

/** Draws a block by rays on the graphics card (WebGL 2), or in the browser's software where there is none. Throws where neither can. */
export class RayPicture {
  private readonly gl: WebGL2RenderingContext;
  private readonly program: WebGLProgram;
  private readonly volume: WebGLTexture;
  private readonly table: WebGLTexture;

  constructor(readonly canvas: HTMLCanvasElement) {
    const gl = canvas.getContext('webgl2', { antialias: false, depth: false, premultipliedAlpha: true });
    if (!gl) throw new Error('no WebGL 2');
    this.gl = gl;
    this.program = gl.createProgram()!;
    for (const [kind, text] of [[gl.VERTEX_SHADER, corners], [gl.FRAGMENT_SHADER, rays]] as const) {
      const shader = gl.createShader(kind)!;
      gl.shaderSource(shader, text);
      gl.compileShader(shader);
      gl.attachShader(this.program, shader);
      if (!gl.getShaderParameter(shader, gl.COMPILE_STATUS)) throw new Error(gl.getShaderInfoLog(shader) ?? 'lost');
    }
    gl.linkProgram(this.program);
    if (!gl.getProgramParameter(this.program, gl.LINK_STATUS)) throw new Error(gl.getProgramInfoLog(this.program) ?? 'lost');
    this.volume = gl.createTexture()!;
    this.table = gl.createTexture()!;
    gl.useProgram(this.program);
    gl.pixelStorei(gl.UNPACK_ALIGNMENT, 1);
    // The same voxels twice: as they are, and with what lies between them.
    for (const [unit, filter] of [[0, gl.NEAREST], [1, gl.LINEAR]] as const) {
      const sampler = gl.createSampler()!;
      for (const way of [gl.TEXTURE_MIN_FILTER, gl.TEXTURE_MAG_FILTER]) gl.samplerParameteri(sampler, way, filter);
      for (const wrap of [gl.TEXTURE_WRAP_S, gl.TEXTURE_WRAP_T, gl.TEXTURE_WRAP_R]) gl.samplerParameteri(sampler, wrap, gl.CLAMP_TO_EDGE);
      gl.bindSampler(unit, sampler);
      gl.activeTexture(gl.TEXTURE0 + unit);
      gl.bindTexture(gl.TEXTURE_3D, this.volume);
    }
    gl.activeTexture(gl.TEXTURE2);
    gl.bindTexture(gl.TEXTURE_2D, this.table);
    for (const way of [gl.TEXTURE_MIN_FILTER, gl.TEXTURE_MAG_FILTER]) gl.texParameteri(gl.TEXTURE_2D, way, gl.NEAREST);
    ['voxels', 'between', 'colours'].forEach((name, unit) => gl.uniform1i(this.at(name), unit));
  }

  take(block: Block): void {
    const { gl } = this, [x, y, z] = block.counts;
    gl.activeTexture(gl.TEXTURE0);
    gl.texImage3D(gl.TEXTURE_3D, 0, gl.R8, x, y, z, 0, gl.RED, gl.UNSIGNED_BYTE, block.entries);
  }

  colour(table: Uint8ClampedArray): void {
    const { gl } = this;
    gl.activeTexture(gl.TEXTURE2);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA, 256, 1, 0, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(table));
  }

  /** Draws, and says once it stands how many milliseconds it took. A pixel of the picture may be larger than one of the page. */
  draw(width: number, height: number, pixel: number, way: Rays, shown: Shown, rule: [number, number, number]): Promise<number> {
    const { gl, canvas } = this, began = performance.now(), w = Math.max(1, Math.round(width / pixel)), h = Math.max(1, Math.round(height / pixel));
    if (canvas.width !== w || canvas.height !== h) [canvas.width, canvas.height] = [w, h];
    gl.viewport(0, 0, w, h);
    for (const [name, v] of Object.entries({ ...way, low: shown.low, high: shown.high, planes: shown.planes, rule })) gl.uniform3fv(this.at(name), v);
    gl.uniform1f(this.at('pixel'), height / h);
    gl.uniform1f(this.at('at'), shown.at);
    for (const name of ['slices', 'greatest', 'surface'] as const) gl.uniform1i(this.at(name), Number(shown[name]));
    gl.drawArrays(gl.TRIANGLES, 0, 3);
    const stands = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0)!;
    gl.flush();
    return new Promise(done => {
      const look = () => {
        if (!gl.isContextLost() && gl.getSyncParameter(stands, gl.SYNC_STATUS) !== gl.SIGNALED) { setTimeout(look, 4); return; }
        gl.deleteSync(stands);
        done(performance.now() - began);
      };
      setTimeout(look, 0);
    });
  }

  private at(name: string): WebGLUniformLocation | null { return this.gl.getUniformLocation(this.program, name); }
}
