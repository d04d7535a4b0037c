using CsCheck;
using NodaTime;
using Undersand.Runs.Tests.Support;
using Undersand.Storage.SegY;

namespace Undersand.Runs.Tests.Storage.SegY;

public sealed class SegyRoundTripTests
{
    private static readonly SegyFormat[] Formats = Enum.GetValues<SegyFormat>();

    /// <summary>Values that each format holds exactly.</summary>
    private static float[] Exact(SegyFormat format, Random random, int count) => [.. Enumerable.Range(0, count).Select(_ => format switch
    {
        SegyFormat.Int8 => random.Next(-128, 128),
        SegyFormat.UInt8 => random.Next(0, 256),
        SegyFormat.Int16 => random.Next(-32768, 32768),
        SegyFormat.UInt16 => random.Next(0, 65536),
        SegyFormat.Int24 => random.Next(-8388608, 8388608),
        SegyFormat.UInt24 => random.Next(0, 16777216),
        SegyFormat.Int32 or SegyFormat.Int64 => (float)random.Next(-8388608, 8388608) * 128,
        SegyFormat.UInt32 or SegyFormat.UInt64 => (float)random.Next(0, 16777216) * 128,
        SegyFormat.FixedPointWithGain => random.Next(-16383, 16384) * 2f,
        _ => (random.Next(-2097152, 2097152) | 1) / 1024f,
    })];

    [Fact]
    public void Any_samples_in_any_format_order_and_revision_come_back() =>
        Gen.Select(Gen.Int[0, Formats.Length - 1], Gen.Int[0, 2], Gen.Int[0, 3], Gen.Int[1, 400], Gen.Int[1, 9], Gen.Int[0, 1 << 20]).Sample((f, o, r, samples, traces, seed) =>
        {
            using var folder = new TestFolder();
            var random = new Random(seed);
            var settings = new SegyWriterSettings { SampleCount = samples, SampleInterval = r >= 2 ? 12.5e-6 : 13e-6, Format = Formats[f], ByteOrder = (SegyByteOrder)o, Revision = (SegyRevision)r };
            float[][] written = [.. Enumerable.Range(0, traces).Select(_ => Exact(Formats[f], random, samples))];
            using (var writer = new SegyWriter(File.Create(folder["a.sgy"]), settings))
                for (int t = 0; t < traces; t++)
                    writer.Write(new SegyTrace(t + 1, 1, 1, new GridPoint(400000.12, 5000.5, 3), new GridPoint(400001.12, 5001.5, 2.5), 0.002, Instant.FromUtc(2026, 5, 4, 1, 2, 3)), written[t]);
            using SegyFile file = SegyFile.Open(folder["a.sgy"]);
            Assert.Equal((settings.ByteOrder, traces, samples), (file.Layout.ByteOrder, file.Layout.Traces, file.Layout.Samples));
            Assert.Equal(settings.SampleInterval, file.Layout.Interval, 1e-12);
            float[] read = new float[samples];
            for (int t = 0; t < traces; t++)
            {
                SegyTraceHeader h = file.HeaderOf(t);
                Assert.Equal((t + 1, 1), (h.Ping, h.Receiver));
                Assert.Equal(400000.12, h.SourceX, 1e-6);
                Assert.Equal(-2.5, h.ReceiverElevation, 1e-6);
                Assert.Equal(0.002, h.Delay, 1e-9);
                file.Read(t, read);
                Assert.Equal(written[t], read);
            }
        }, iter: 200);

    /// <summary>checks.md FO-01, FO-03, FO-07, and 0.1 rounded of FO-09.</summary>
    [Theory]
    [InlineData(0x41100000u, 1.0)]
    [InlineData(0xC276A000u, -118.625)]
    [InlineData(0xC6820783u, -8521603.0)]
    [InlineData(0x00100000u, 5.397605346934028e-79)]
    [InlineData(0x7FFFFFFFu, 7.2370051459731155e+75)]
    public void Ibm_floats_have_their_published_values(uint bits, double value)
    {
        Assert.Equal(1, IbmFloat.ToDouble(bits) / value, 1e-15);
        Assert.Equal(bits, IbmFloat.FromDouble(IbmFloat.ToDouble(bits)));
    }

    [Fact]
    public void One_tenth_is_encoded_rounded() => Assert.Equal(0x4019999Au, IbmFloat.FromDouble(0.1));

    /// <summary>checks.md FO-13.</summary>
    [Theory]
    [InlineData(-100, 40000012, 400000.12)]
    [InlineData(10, 123, 1230)]
    [InlineData(0, 77, 77)]
    public void Scalars_multiply_divide_or_do_nothing(short scalar, int raw, double expected) => Assert.Equal(expected, HeaderBytes.Scaled(raw, scalar));

    /// <summary>FO-10: a value that a 32-bit float can't hold is never a silent infinity at the survey's door (see BadInput); here it is one.</summary>
    [Fact]
    public void An_ibm_float_beyond_32_bits_decodes_to_an_infinity_for_the_caller_to_refuse()
    {
        float[] samples = new float[1];
        SampleDecoder.Decode([0x7F, 0xFF, 0xFF, 0xFF], SegyFormat.IbmFloat32, SegyByteOrder.BigEndian, samples);
        Assert.True(float.IsPositiveInfinity(samples[0]));
    }

    [Theory]
    [InlineData(SegyFormat.Float32, 1, SegyByteOrder.BigEndian)]
    [InlineData(SegyFormat.Float32, 1, SegyByteOrder.LittleEndian)]
    [InlineData(SegyFormat.IbmFloat32, 5, SegyByteOrder.BigEndian)]
    [InlineData(SegyFormat.Int32, 5, SegyByteOrder.BigEndian)]
    public void A_lying_format_code_is_found_out(SegyFormat truth, int code, SegyByteOrder order)
    {
        using var folder = new TestFolder();
        var random = new Random(11);
        using (var writer = new SegyWriter(File.Create(folder["a.sgy"]), new SegyWriterSettings { SampleCount = 500, SampleInterval = 1e-5, Format = truth, ByteOrder = order }))
            for (int t = 0; t < 20; t++)
                writer.Write(new SegyTrace(t, 1, 1, default, default, 0, default), [.. Enumerable.Range(0, 500).Select(_ => (float)(3000 * (random.NextDouble() - 0.5)))]);
        byte[] bytes = File.ReadAllBytes(folder["a.sgy"]);
        (bytes[3224], bytes[3225]) = order == SegyByteOrder.LittleEndian ? ((byte)code, (byte)0) : ((byte)0, (byte)code);
        File.WriteAllBytes(folder["a.sgy"], bytes);
        using SegyFile file = SegyFile.Open(folder["a.sgy"]);
        Assert.Equal(truth, file.Layout.Format);
        Assert.Contains(file.Layout.Remarks, remark => remark.Contains($"give sample format {code}", StringComparison.Ordinal));
    }

    [Fact]
    public void Segyio_reads_what_we_write()
    {
        using var folder = new TestFolder();
        using (var writer = new SegyWriter(File.Create(folder["a.sgy"]), new SegyWriterSettings { SampleCount = 7, SampleInterval = 20e-6, CoordinateScalar = -100 }))
            for (int t = 0; t < 3; t++)
                writer.Write(new SegyTrace(40 + t, 2, 1, new GridPoint(500000.25, 5761000.5, 9), new GridPoint(500001, 5761001, 8.5), 0.001, Instant.FromUtc(2026, 5, 4, 1, 2, 3)), [.. Enumerable.Range(0, 7).Select(k => t + k / 8f)]);
        const string script = """
            import segyio, sys
            with segyio.open(sys.argv[1], ignore_geometry=True) as f:
                print(f.tracecount, len(f.samples), int(f.bin[3217]), int(f.bin[3225]))
                for t in range(f.tracecount):
                    h = f.header[t]
                    print([h[k] for k in (9, 13, 29, 41, 49, 69, 71, 73, 77, 81, 85, 115, 117, 157, 159, 161, 163, 165)], [float(x) for x in f.trace[t]])
            """;
        Assert.Equal(
            """
            3 7 20 5
            [40, 2, 1, -8500, 9000, -1000, -100, 50000025, 576100050, 50000100, 576100100, 7, 20, 2026, 124, 1, 2, 3] [0.0, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75]
            [41, 2, 1, -8500, 9000, -1000, -100, 50000025, 576100050, 50000100, 576100100, 7, 20, 2026, 124, 1, 2, 3] [1.0, 1.125, 1.25, 1.375, 1.5, 1.625, 1.75]
            [42, 2, 1, -8500, 9000, -1000, -100, 50000025, 576100050, 50000100, 576100100, 7, 20, 2026, 124, 1, 2, 3] [2.0, 2.125, 2.25, 2.375, 2.5, 2.625, 2.75]

            """.ReplaceLineEndings("\n"), OutsideReader.RunPython(script, "segyio", folder["a.sgy"]).ReplaceLineEndings("\n"));
    }

    [Theory]
    [InlineData(1, "big")]
    [InlineData(5, "little")]
    [InlineData(3, "big")]
    public void We_read_what_segyio_writes(int format, string endian)
    {
        using var folder = new TestFolder();
        const string script = """
            import segyio, sys
            import numpy as np
            spec = segyio.spec()
            spec.samples = list(range(60)); spec.tracecount = 5; spec.format = int(sys.argv[2]); spec.endian = sys.argv[3]
            with segyio.create(sys.argv[1], spec) as f:
                f.bin.update({3217: 40, 3221: 60, 3225: int(sys.argv[2])})
                for t in range(5):
                    f.header[t] = {9: 7 + t, 13: 1, 29: 1, 71: -1000, 73: 123456 + t, 115: 60, 117: 40, 109: 3}
                    f.trace[t] = np.array([1000 * np.sin(0.3 * k + t) // 1 for k in range(60)]).astype(np.int16 if sys.argv[2] == '3' else np.float32)
            """;
        OutsideReader.RunPython(script, "segyio", folder["a.sgy"], $"{format}", endian);
        using SegyFile file = SegyFile.Open(folder["a.sgy"]);
        Assert.Equal((5, 60, (SegyFormat)format), (file.Layout.Traces, file.Layout.Samples, file.Layout.Format));
        Assert.Equal(40e-6, file.Layout.Interval, 1e-12);
        float[] samples = new float[60];
        for (int t = 0; t < 5; t++)
        {
            Assert.Equal((7 + t, (123456 + t) / 1000.0, 0.003), (file.HeaderOf(t).Ping, file.HeaderOf(t).SourceX, file.HeaderOf(t).Delay));
            file.Read(t, samples);
            for (int k = 0; k < 60; k++)
                Assert.Equal((float)Math.Floor(1000 * Math.Sin(0.3 * k + t)), samples[k]);
        }
    }
}
