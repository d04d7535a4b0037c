using Undersand.Runs.Tests.Support;
using Undersand.Storage.SegY;

namespace Undersand.Runs.Tests.Storage.SegY;

/// <summary>SEG-Y files that others wrote (test data of two public readers, read from where they lie): their values, or one clear sentence.</summary>
public sealed class OthersFilesTests
{
    private static string Folder()
    {
        string? folder = Repository.Shared is null ? null : Path.Combine(Repository.Shared, "data", "segy");
        Assert.SkipUnless(Directory.Exists(folder), "the SEG-Y files of others are not here; put them into ../shared/data/segy");
        return folder!;
    }

    private static float[][] ReadAll(string path, out SegyLayout layout)
    {
        using SegyFile file = SegyFile.Open(path, Path.GetFileName(path));
        layout = file.Layout;
        float[][] traces = new float[layout.Traces][];
        for (int i = 0; i < traces.Length; i++)
            file.Read(i, traces[i] = new float[file.Layout.Samples]);
        return traces;
    }

    public static TheoryData<int> Formats => [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 15, 16];

    /// <summary>The twins hold the same values; unsigned ones hold negative values modulo their range, 1-byte ones modulo 256.</summary>
    [Theory, MemberData(nameof(Formats))]
    public void Each_format_in_either_byte_order_holds_what_the_16_bit_file_holds(int format)
    {
        float[][] expected = ReadAll(Path.Combine(Folder(), "f3.sgy"), out _);
        foreach (string order in (string[])["msb", "lsb"])
        {
            float[][] found = ReadAll(Path.Combine(Folder(), "formats", $"Format{format}{order}.sgy"), out SegyLayout layout);
            Assert.Equal(order == "msb" ? SegyByteOrder.BigEndian : SegyByteOrder.LittleEndian, layout.ByteOrder);
            Assert.Equal(expected.Length, found.Length);
            double modulus = format is 8 or 16 ? 256 : double.PositiveInfinity;
            for (int i = 0; i < expected.Length; i++)
                for (int k = 0; k < expected[i].Length; k++)
                {
                    double difference = found[i][k] - expected[i][k];
                    Assert.Equal(0, double.IsFinite(modulus) ? difference % modulus : difference);
                }
        }
    }

    [Theory]
    [InlineData("00001034.sgy_first_trace")]
    [InlineData("1.sgy_first_trace")]
    [InlineData("example.y_first_trace")]
    [InlineData("ld0042_file_00018.sgy_first_trace")]
    [InlineData("one_trace_year_11.sgy")]
    [InlineData("one_trace_year_99.sgy")]
    [InlineData("planes.segy_first_trace")]
    public void Field_recordings_hold_the_samples_that_another_reader_decoded(string name)
    {
        string path = Path.Combine(Folder(), "field", name);
        double[] expected = NumPy.Read(path + ".npy");
        float[] found = Assert.Single(ReadAll(path, out _));
        Assert.Equal(expected.Length, found.Length);
        for (int i = 0; i < expected.Length; i++)
            Assert.Equal((float)expected[i], found[i]);
    }

    /// <summary>First samples of the first and last trace, counts: by segyio 1.8.3 where it opens the file, else by hand from the bytes.</summary>
    [Theory]
    [InlineData("small.sgy", 25, 50, 1.2f, 5.24f)]
    [InlineData("small-lsb.sgy", 25, 50, 1.2f, 5.24f)]
    [InlineData("text-embed-null.sgy", 25, 50, 1.2f, 5.24f)]
    [InlineData("shot-gather.sgy", 61, 25, 2f, 8f)]
    [InlineData("stanzas-known-count.sgy", 6, 4, 1.2f, 3.21f)]
    [InlineData("stanzas-unknown-count.sgy", 6, 4, 1.2f, 3.21f)]
    [InlineData("multi-text.sgy", 1, 1, 0f, 0f)]
    [InlineData("long.sgy", 3, 60000, 0f, 0.5005021f)]
    [InlineData("rotated-small-rev2.sgy", 25, 50, null, null)]
    [InlineData("trace-header-extension1.sgy", 6, 4, 1.2f, null)]
    [InlineData("trace-header-extensions.sgy", 2, 4, 1.2f, null)]
    [InlineData("delay-scalar.sgy", 1, 251, 0f, 0f)]
    [InlineData("f3.sgy", 414, 75, 0f, 0f)]
    [InlineData("f3-lsb.sgy", 414, 75, 0f, 0f)]
    public void Files_with_quirks_are_read(string name, int traces, int samples, float? first, float? last)
    {
        float[][] found = ReadAll(Path.Combine(Folder(), name), out SegyLayout layout);
        Assert.Equal((traces, samples), (layout.Traces, layout.Samples));
        if (first is not null)
            Assert.Equal(first.Value, found[0][0], 1e-5f);
        if (last is not null)
            Assert.Equal(last.Value, found[^1][0], 1e-5f);
    }

    [Fact]
    public void A_delay_of_10000_with_the_scalar_minus_10_is_a_second()
    {
        using SegyFile file = SegyFile.Open(Path.Combine(Folder(), "delay-scalar.sgy"));
        Assert.Equal(1.0, file.HeaderOf(0).Delay, 1e-12);
    }

    [Theory]
    [InlineData("interval-neg-bin-pos-trace.sgy", 4e-3)]
    [InlineData("interval-pos-bin-neg-trace.sgy", 2e-3)]
    public void An_impossible_interval_gives_way_to_the_other(string name, double expected)
    {
        using SegyFile file = SegyFile.Open(Path.Combine(Folder(), name));
        Assert.Equal(expected, file.Layout.Interval, 1e-12);
    }

    [Theory]
    [InlineData("interval-neg-bin-neg-trace.sgy", "interval-neg-bin-neg-trace.sgy, trace 1, bytes 117–118: the sample interval is -25000 µs, and that in bytes 3217–3218 is -2000 µs; write it to either.")]
    [InlineData("broken.sgy", "broken.sgy, trace 4: the file is truncated: after 3 whole traces of 4 samples 68 bytes are left over, too few for another; copy it again from where it was recorded.")]
    public void Broken_files_are_refused_in_a_sentence(string name, string sentence)
    {
        string path = Path.Combine(Folder(), name);
        Assert.Equal(sentence, Assert.Throws<SurveyException>(() => SegyFile.Open(path, name)).Message);
    }
}
