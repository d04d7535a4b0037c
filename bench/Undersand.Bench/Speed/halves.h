// The few 512-bit intrinsics that the C reference uses, each as two 256-bit halves, so that it also runs where there is AVX2 but no AVX-512.
#pragma once
#include <immintrin.h>
#include <stdint.h>

typedef struct { __m256 a, b; } halves_ps;
typedef struct { __m256i a, b; } halves_i;
#define HALVES static inline __attribute__((always_inline))
#define __m512 halves_ps
#define __m512i halves_i
#define __mmask16 uint16_t

HALVES halves_ps h_set1_ps(float x) { return (halves_ps){_mm256_set1_ps(x), _mm256_set1_ps(x)}; }
HALVES halves_ps h_load_ps(const float *p) { return (halves_ps){_mm256_load_ps(p), _mm256_load_ps(p + 8)}; }
HALVES halves_ps h_loadu_ps(const float *p) { return (halves_ps){_mm256_loadu_ps(p), _mm256_loadu_ps(p + 8)}; }
HALVES void h_store_ps(float *p, halves_ps x) { _mm256_store_ps(p, x.a); _mm256_store_ps(p + 8, x.b); }
#define H2(NAME, OP) HALVES halves_ps NAME(halves_ps x, halves_ps y) { return (halves_ps){OP(x.a, y.a), OP(x.b, y.b)}; }
#define H3(NAME, OP) HALVES halves_ps NAME(halves_ps x, halves_ps y, halves_ps z) { return (halves_ps){OP(x.a, y.a, z.a), OP(x.b, y.b, z.b)}; }
H2(h_add_ps, _mm256_add_ps) H2(h_sub_ps, _mm256_sub_ps) H2(h_mul_ps, _mm256_mul_ps)
H2(h_unpacklo_ps, _mm256_unpacklo_ps) H2(h_unpackhi_ps, _mm256_unpackhi_ps)
H3(h_fmadd_ps, _mm256_fmadd_ps) H3(h_fmsub_ps, _mm256_fmsub_ps) H3(h_fnmadd_ps, _mm256_fnmadd_ps)
HALVES halves_i h_set1_epi32(int x) { return (halves_i){_mm256_set1_epi32(x), _mm256_set1_epi32(x)}; }
HALVES halves_i h_add_epi32(halves_i x, halves_i y) { return (halves_i){_mm256_add_epi32(x.a, y.a), _mm256_add_epi32(x.b, y.b)}; }
HALVES halves_i h_cvttps_epi32(halves_ps x) { return (halves_i){_mm256_cvttps_epi32(x.a), _mm256_cvttps_epi32(x.b)}; }
HALVES halves_ps h_cvtepi32_ps(halves_i x) { return (halves_ps){_mm256_cvtepi32_ps(x.a), _mm256_cvtepi32_ps(x.b)}; }
HALVES halves_i h_loadu_si512(const void *p) { return (halves_i){_mm256_loadu_si256((const __m256i *)p), _mm256_loadu_si256((const __m256i *)p + 1)}; }
HALVES void h_storeu_si512(void *p, halves_i x) { _mm256_storeu_si256((__m256i *)p, x.a); _mm256_storeu_si256((__m256i *)p + 1, x.b); }
HALVES __m256i h_mask8(int m) { return _mm256_cmpgt_epi32(_mm256_and_si256(_mm256_set1_epi32(m), _mm256_setr_epi32(1, 2, 4, 8, 16, 32, 64, 128)), _mm256_setzero_si256()); }
HALVES halves_i h_maskz_mov_epi32(uint16_t m, halves_i x) { return (halves_i){_mm256_and_si256(h_mask8(m), x.a), _mm256_and_si256(h_mask8(m >> 8), x.b)}; }
HALVES halves_ps h_maskz_mov_ps(uint16_t m, halves_ps x) { return (halves_ps){_mm256_and_ps(_mm256_castsi256_ps(h_mask8(m)), x.a), _mm256_and_ps(_mm256_castsi256_ps(h_mask8(m >> 8)), x.b)}; }
HALVES halves_i h_mask_add_epi32(halves_i s, uint16_t m, halves_i x, halves_i y) { (void)s; return h_add_epi32(x, h_maskz_mov_epi32(m, y)); }
HALVES uint16_t h_cmple_epi32_mask(halves_i x, halves_i y) { return (uint16_t)~(_mm256_movemask_ps(_mm256_castsi256_ps(_mm256_cmpgt_epi32(x.a, y.a))) | _mm256_movemask_ps(_mm256_castsi256_ps(_mm256_cmpgt_epi32(x.b, y.b))) << 8); }
#define h_cmp_ps_mask(x, y, how) (uint16_t)(_mm256_movemask_ps(_mm256_cmp_ps((x).a, (y).a, how)) | _mm256_movemask_ps(_mm256_cmp_ps((x).b, (y).b, how)) << 8)
#define h_shuffle_ps(x, y, how) ((halves_ps){_mm256_shuffle_ps((x).a, (y).a, how), _mm256_shuffle_ps((x).b, (y).b, how)})

// A 128-bit load into one of the four quarters.
HALVES halves_ps h_castps128_ps512(__m128 x) { return (halves_ps){_mm256_castps128_ps256(x), _mm256_undefined_ps()}; }
HALVES halves_ps h_mask_broadcast_f32x4(halves_ps z, int m, __m128 x) {
  if (m == 0x00F0) z.a = _mm256_insertf128_ps(z.a, x, 1);
  if (m == 0x0F00) z.b = _mm256_castps128_ps256(x);
  if (m == 0xF000) z.b = _mm256_insertf128_ps(z.b, x, 1);
  return z;
}

#define _mm512_set1_ps h_set1_ps
#define _mm512_load_ps h_load_ps
#define _mm512_loadu_ps h_loadu_ps
#define _mm512_store_ps h_store_ps
#define _mm512_add_ps h_add_ps
#define _mm512_sub_ps h_sub_ps
#define _mm512_mul_ps h_mul_ps
#define _mm512_unpacklo_ps h_unpacklo_ps
#define _mm512_unpackhi_ps h_unpackhi_ps
#define _mm512_fmadd_ps h_fmadd_ps
#define _mm512_fmsub_ps h_fmsub_ps
#define _mm512_fnmadd_ps h_fnmadd_ps
#define _mm512_set1_epi32 h_set1_epi32
#define _mm512_add_epi32 h_add_epi32
#define _mm512_cvttps_epi32 h_cvttps_epi32
#define _mm512_cvtepi32_ps h_cvtepi32_ps
#define _mm512_loadu_si512 h_loadu_si512
#define _mm512_storeu_si512 h_storeu_si512
#define _mm512_store_si512 h_storeu_si512
#define _mm512_maskz_mov_epi32 h_maskz_mov_epi32
#define _mm512_maskz_mov_ps h_maskz_mov_ps
#define _mm512_mask_add_epi32 h_mask_add_epi32
#define _mm512_cmple_epi32_mask h_cmple_epi32_mask
#define _mm512_cmp_ps_mask h_cmp_ps_mask
#define _mm512_shuffle_ps h_shuffle_ps
#define _mm512_castps128_ps512 h_castps128_ps512
#define _mm512_mask_broadcast_f32x4 h_mask_broadcast_f32x4
