using Undersand.Positioning;
using Undersand.Storage.SegY;

namespace Undersand.Storage.Surveys;

/// <summary>A survey as it lies in a folder: survey.json, recordings, navigation, and the other tables of docs/survey-folder.md. The folder is never written to.</summary>
public sealed class SurveyFolder : IDisposable
{
    private readonly List<SegyLine> _lines = [];

    private SurveyFolder(string path, SurveyFormulas formulas, IReadOnlyCollection<string>? recordings, CancellationToken cancellation)
    {
        if (!Directory.Exists(path))
            throw new SurveyException(path, null, File.Exists(path) ? "this is a file and no survey folder" : "there is no such folder", "name the folder that holds survey.json and the recordings");
        Path = path;
        var cautions = new List<Caution>();
        var assumptions = new List<Assumption>();
        IReadOnlyList<string> all = Recordings.Find(path, cautions), names = recordings is null ? all : [.. all.Where(recordings.Contains)];
        if (names.Count == 0)
            throw new SurveyException(path, null, "none of the recordings asked for is there", "wait until one has arrived, or ask for others");
        if (!Has(SurveyJson.FileName))
            throw new SurveyException(SurveyJson.FileName, null, "the file is missing, so nobody knows the reference system of the coordinates", "write it into the folder with at least { \"crs\": \"EPSG:32631\" }");
        var json = new SurveyJson(path, formulas, cautions, assumptions);
        ArrayDescription? array = Has(ArrayJson.FileName) ? ArrayJson.Read(path, cautions) : null;
        Navigation = ReadNavigation(array, cautions);
        PingsCsv? pings = Has(PingsCsv.FileName) ? new PingsCsv(path, cautions) : null;
        foreach (string file in pings?.Files.Except(all) ?? [])
            cautions.Add(new Caution(PingsCsv.FileName, $"There is no recording {file}; its rows were ignored."));
        Magnetometer = Has(OtherTables.MagnetometerFile) ? OtherTables.ReadMagnetometer(path, cautions) : [];
        Outcomes = Has(OtherTables.OutcomesFile) ? OtherTables.ReadOutcomes(path, cautions) : [];
        Survey = OpenLines(names, new LineOpener(path, Navigation, array, pings, cautions, assumptions, names.Count), new SurveyAssembler(path, json, formulas, cautions, assumptions), json, array, cancellation) with
        {
            Assumptions = assumptions,
            Cautions = cautions,
        };
        Inputs = [.. InputNames(json, names).Select(name => new InputFile(path, name))];
    }

    /// <summary>Whether a folder looks like a survey: it has a survey.json, or recordings.</summary>
    public static bool IsOne(string path) => Directory.Exists(path) && (File.Exists(System.IO.Path.Combine(path, SurveyJson.FileName)) || Directory.EnumerateFiles(path, "*.sgy").Any());

    /// <summary>Tables that say nothing about the recordings.</summary>
    public static IReadOnlyList<string> PassedOn { get; } = [OtherTables.MagnetometerFile, OtherTables.OutcomesFile];

    /// <summary>Tables of the pings of all lines, which the lines' pings are made from.</summary>
    public static IReadOnlyList<string> ByPing { get; } = [PingsCsv.FileName, NavigationCsv.FileName];

    /// <summary>The folder, as the user named it.</summary>
    public string Path { get; }

    /// <summary>What survey.json and the headers say, with every default taken, each as an assumption, and the cautions met on reading.</summary>
    public Survey Survey { get; }

    /// <summary>The recordings, in the order of their file names.</summary>
    public IReadOnlyList<ISurveyLine> Lines => _lines;

    /// <summary>All files that were read.</summary>
    public IReadOnlyList<InputFile> Inputs { get; }

    /// <summary>The vehicle's way, where navigation.csv and array.json give positions; else null.</summary>
    public NavigationTrack? Navigation { get; }

    /// <summary>magnetometer.csv; empty if there is none.</summary>
    public IReadOnlyList<MagnetometerReading> Magnetometer { get; }

    /// <summary>outcomes.csv; empty if there is none.</summary>
    public IReadOnlyList<Outcome> Outcomes { get; }

    /// <summary>Opens a survey: reads all headers and tables once, and a few samples of each recording.</summary>
    /// <param name="path">The folder.</param>
    /// <param name="formulas">What is needed from the science.</param>
    /// <param name="recordings">The file names of the recordings to read; null for all.</param>
    /// <param name="cancellation">Stops between recordings.</param>
    /// <exception cref="SurveyException">The survey is unusable.</exception>
    public static SurveyFolder Open(string path, SurveyFormulas formulas, IReadOnlyCollection<string>? recordings = null, CancellationToken cancellation = default) => new(path, formulas, recordings, cancellation);

    /// <summary>Closes the recordings.</summary>
    public void Dispose() => _lines.ForEach(line => line.Dispose());

    private bool Has(string file) => File.Exists(System.IO.Path.Combine(Path, file));

    private NavigationTrack? ReadNavigation(ArrayDescription? array, List<Caution> cautions)
    {
        if (!Has(NavigationCsv.FileName))
            return null;
        if (array is not null)
            return NavigationCsv.Read(Path, cautions);
        cautions.Add(new Caution(NavigationCsv.FileName, "There is no array.json with the lever arms, so navigation was ignored and positions were taken from trace headers."));
        return null;
    }

    private Survey OpenLines(IReadOnlyList<string> names, LineOpener opener, SurveyAssembler assembler, SurveyJson json, ArrayDescription? array, CancellationToken cancellation)
    {
        try
        {
            var layouts = new List<SegyLayout>();
            foreach (string name in names)
            {
                cancellation.ThrowIfCancellationRequested();
                _lines.Add(opener.Open(name, out SegyLayout layout));
                layouts.Add(layout);
            }
            double vehicleDepth = SurveyExtent.Check(_lines);
            return new Survey
            {
                Name = json.Name,
                Epsg = json.Epsg,
                Water = assembler.SettleWater(vehicleDepth),
                Sediment = json.Sediment,
                Waveform = assembler.SettleWaveform(_lines, layouts),
                Calibration = json.Calibration,
                Image = json.Image,
                Prior = json.Prior,
                Array = array,
            };
        }
        catch
        {
            Dispose();
            throw;
        }
    }

    private IEnumerable<string> InputNames(SurveyJson json, IReadOnlyList<string> recordings)
    {
        string[] tables = [SurveyJson.FileName, ArrayJson.FileName, NavigationCsv.FileName, PingsCsv.FileName, OtherTables.MagnetometerFile, OtherTables.OutcomesFile];
        return [.. tables.Where(Has), .. json.WaterFields.Cast is { } cast ? [cast.Replace('\\', '/')] : (string[])[], .. recordings];
    }
}
