#:project ../src/Undersand.Runs

// What is in the recordings of a survey?  dotnet run examples/read-a-survey.cs -- SURVEY

using Undersand;
using Undersand.Runs.Processing;
using Undersand.Storage.Surveys;

if (args is not [string path])
{
    Console.Error.WriteLine("Usage: dotnet run examples/read-a-survey.cs -- SURVEY");
    return 2;
}

// Reads headers and tables, not the samples. Whatever can't be used is a SurveyException that says what to mend.
using SurveyFolder folder = SurveyFolder.Open(path, Formulas.OfScience);
Survey survey = folder.Survey;
Console.WriteLine($"{survey.Name}, EPSG:{survey.Epsg}; sound in the water {survey.Water.SoundSpeed:0.#} m/s, in the sediment {survey.Sediment.SoundSpeed:0.#} m/s");

foreach (ISurveyLine line in folder.Lines)
{
    Ping first = line.PingAt(0), last = line.PingAt(line.PingCount - 1);
    Console.WriteLine($"{line.Name}: {line.PingCount} pings of {first.Receivers.Count} receivers over {first.Source.HorizontalDistanceTo(last.Source):0.0} m, from {first.Time}");

    // The samples of one ping, receiver by receiver, in the recording's own unit.
    float[] samples = new float[first.Receivers.Count * line.SampleCount];
    line.Read(0, samples);
    int loudest = Enumerable.Range(0, line.SampleCount).MaxBy(i => Math.Abs(samples[i]));
    Console.WriteLine($"  loudest on its first trace: {(first.FirstSampleTime + loudest * line.SampleInterval) * 1e3:0.00} ms after the start of the ping");
}

foreach (Assumption assumption in survey.Assumptions)
    Console.WriteLine($"Assumed: {assumption.Quantity} = {assumption.Value} ({assumption.Source})");
foreach (Caution caution in survey.Cautions)
    Console.WriteLine($"Caution: {caution.Where}: {caution.Text}");
return 0;
