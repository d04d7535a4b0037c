namespace Undersand.Storage.SegY;

/// <summary>Finds out whether the format code tells the truth, from the bits of the samples themselves.</summary>
/// <remarks>
/// IBM fractions are normalised: their top hexadecimal digit is zero only in zeros. In IEEE floats the same four bits are the exponent's
/// last and the fraction's first three: about one in twelve is zero where values vary. Integers read as IEEE floats are mostly
/// denormal or NaN. Two's-complement integers marked unsigned crowd at both ends of the range. (Our own rules, tested on files of others.)
/// </remarks>
internal static class FormatJudge
{
    private const int TracesLookedAt = 32;

    /// <summary>Different values needed to overrule the header.</summary>
    private const int FewestValues = 4096;

    /// <summary>Fewer suffice for integers: read as floats, they make no sense at all.</summary>
    private const int FewestIntegers = 200;

    /// <summary>Words looked at, over all traces.</summary>
    private const int MostWords = 1 << 17;

    /// <summary>The format the samples really have.</summary>
    /// <param name="source">The file.</param>
    /// <param name="layout">Its layout, with the format as the header says.</param>
    /// <param name="remarks">Receives a doubt that isn't strong enough to overrule the header.</param>
    public static SegyFormat Judge(SegySource source, SegyLayout layout, List<string> remarks)
    {
        if (SegyFormats.IsUnsigned(layout.Format))
            return JudgeUnsigned(source, layout);
        return layout.Format is SegyFormat.IbmFloat32 or SegyFormat.Float32 or SegyFormat.FixedPointWithGain ? JudgeWords(source, layout, remarks) : layout.Format;
    }

    private static SegyFormat JudgeWords(SegySource source, SegyLayout layout, List<string> remarks)
    {
        var words = new HashSet<uint>();
        foreach (byte[] trace in Traces(source, layout))
            for (int i = 0; i + 4 <= trace.Length && words.Count < MostWords; i += 4)
                words.Add(new HeaderBytes(trace, layout.ByteOrder, 0).UInt32At(i));
        words.Remove(0);
        words.Remove(0x8000_0000);
        if (layout.Format == SegyFormat.FixedPointWithGain && words.All(word => word >> 24 == 0) || words.Count == 0)
            return layout.Format;
        int unnormalised = words.Count(word => (word & 0x00F0_0000) == 0), n = words.Count;
        int strange = words.Count(word => float.IsSubnormal(BitConverter.UInt32BitsToSingle(word)) || !float.IsFinite(BitConverter.UInt32BitsToSingle(word)));
        int wild = words.Count(word => Math.Abs(BitConverter.UInt32BitsToSingle(word)) is < 1e-25f or > 1e25f);
        SegyFormat floating = unnormalised == 0 ? SegyFormat.IbmFloat32 : SegyFormat.Float32;
        if (layout.Format == SegyFormat.FixedPointWithGain)
            return strange == 0 && wild < 0.01 * n ? floating : layout.Format;
        SegyFormat likely = Likely(layout.Format, words, n, unnormalised, strange, wild);
        if (likely == layout.Format || n >= FewestValues || (likely == SegyFormat.Int32 && n >= FewestIntegers))
            return likely;
        if (n >= FewestIntegers)
            remarks.Add($"the samples look like format {(int)likely} ({SegyFormats.NameOf(likely)}) rather than {layout.FormatCode} as bytes 3225–3226 say, but are too few to overrule the header");
        return layout.Format;
    }

    private static SegyFormat Likely(SegyFormat written, HashSet<uint> words, int n, int unnormalised, int strange, int wild)
    {
        if (written == SegyFormat.Float32)
            return strange > 0.5 * n && LooksInteger(words) ? SegyFormat.Int32 : unnormalised == 0 ? SegyFormat.IbmFloat32 : written;
        if (unnormalised > 0.01 * n && strange == 0 && wild < 0.01 * n)
            return SegyFormat.Float32;
        return unnormalised > 0.5 * n && LooksInteger(words) ? SegyFormat.Int32 : written;
    }

    /// <summary>Small integers of both signs: the top byte is all zeros or all ones.</summary>
    private static bool LooksInteger(HashSet<uint> words) =>
        words.Count(word => word >> 24 is 0x00 or 0xFF) > 0.99 * words.Count && words.Any(word => word >> 24 == 0xFF);

    private static SegyFormat JudgeUnsigned(SegySource source, SegyLayout layout)
    {
        double range = Math.Pow(2, 8 * layout.SampleSize);
        long low = 0, high = 0, middle = 0;
        float[] samples = new float[layout.Samples];
        foreach (byte[] trace in Traces(source, layout))
        {
            Span<float> decoded = samples.AsSpan(0, trace.Length / layout.SampleSize);
            SampleDecoder.Decode(trace.AsSpan(0, decoded.Length * layout.SampleSize), layout.Format, layout.ByteOrder, decoded);
            foreach (float value in decoded)
            {
                if (value == 0)
                    continue;
                if (value < 0.25 * range) low++;
                else if (value > 0.75 * range) high++;
                else middle++;
            }
        }
        long n = low + high + middle;
        return n > 0 && low > 0.1 * n && high > 0.1 * n && middle < 0.1 * n ? SegyFormats.SignedTwin(layout.Format) : layout.Format;
    }

    /// <summary>The bytes of traces spread over the file.</summary>
    private static IEnumerable<byte[]> Traces(SegySource source, SegyLayout layout)
    {
        int count = Math.Min(layout.Traces, TracesLookedAt);
        for (int i = 0; i < count; i++)
        {
            int trace = (int)((long)i * layout.Traces / count);
            byte[] bytes = new byte[Math.Min((long)layout.SamplesOf(trace) * layout.SampleSize, 1 << 18)];
            source.ReadExactly(layout.StartOf(trace) + layout.HeaderSize, bytes);
            yield return bytes;
        }
    }
}
