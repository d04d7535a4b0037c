using CsCheck;
using Undersand.Storage.Surveys;

namespace Undersand.Runs.Tests.Storage.Surveys;

/// <summary>Bytes from strangers: whatever is in a recording, it is read or refused in a sentence.</summary>
public sealed class CorruptedBytesTests
{
    [Fact]
    public void A_recording_with_wrong_bytes_in_its_headers_is_read_or_refused()
    {
        using var survey = new SmallSurvey();
        File.Delete(survey["line-2.sgy"]);
        byte[] sound = File.ReadAllBytes(survey["line-1.sgy"]);
        Gen.Select(Gen.Int[0, 399].Select(Gen.Byte, (at, value) => (at, value)).Array[0, 4], Gen.Int[0, 47].Select(Gen.Int[0, 239], Gen.Byte, (trace, at, value) => (trace, at, value)).Array[0, 4], Gen.Int[0, 3000]).Sample((binary, headers, cut) =>
        {
            byte[] bytes = sound[..^(cut < 2000 ? 0 : cut)];
            foreach ((int at, byte value) in binary)
                bytes[3200 + at] = value;
            foreach ((int trace, int at, byte value) in headers)
                if (3600 + trace * SmallSurvey.TraceSize + at is var place && place < bytes.Length)
                    bytes[place] = value;
            File.WriteAllBytes(survey["line-1.sgy"], bytes);
            try
            {
                using SurveyFolder folder = survey.Open();
                float[] samples = new float[folder.Lines[0].SampleCount * folder.Lines[0].PingAt(0).Receivers.Count];
                for (int i = 0; i < folder.Lines[0].PingCount; i++)
                    folder.Lines[0].Read(i, samples);
            }
            catch (SurveyException)
            {
                // A sentence: that is what is wanted.
            }
        }, iter: 120, threads: 1);
    }
}
