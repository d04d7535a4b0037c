using Undersand.Storage;

namespace Undersand.Runs;

/// <summary>The folder that the results of a run go to: opened, kept whole, and left as it was found where the run comes to nothing.</summary>
/// <remarks>
/// Files are written as <c>name.tmp</c> and renamed when whole, by whoever writes them. This class removes what an interrupted run left
/// half written, keeps a second run out while one is at work, and takes back what a refused run made.
/// </remarks>
public sealed class ResultsFolder
{
    private readonly RunLock _lock;
    private readonly HashSet<string> _before;
    private readonly IReadOnlyList<string> _madeFolders;
    private readonly byte[]? _recordBefore;

    private ResultsFolder(string named, RunLock runLock, HashSet<string> before, IReadOnlyList<string> madeFolders)
    {
        Named = named;
        Path = System.IO.Path.GetFullPath(named);
        _lock = runLock;
        _before = before;
        _madeFolders = madeFolders;
        _recordBefore = File.Exists(Record) ? File.ReadAllBytes(Record) : null;
    }

    /// <summary>The folder as the user named it.</summary>
    public string Named { get; }

    /// <summary>The folder's full path.</summary>
    public string Path { get; }

    /// <summary>The project's database.</summary>
    public string GeoPackage => At("survey.gpkg");

    /// <summary>The targets in longitude and latitude.</summary>
    public string TargetsGeoJson => At("targets.geojson");

    /// <summary>The targets for a spreadsheet.</summary>
    public string TargetsCsv => At("targets.csv");

    /// <summary>The imaged voxels.</summary>
    public string Volume => At(ResultsFiles.Volume);

    /// <summary>The folder of the maps.</summary>
    public string Maps => At("maps");

    /// <summary>The report as a page.</summary>
    public string ReportHtml => At("report.html");

    /// <summary>The report on paper.</summary>
    public string ReportPdf => At("report.pdf");

    /// <summary>The sums of all other files that stay as they are.</summary>
    public string Sums => At(ResultsFiles.Sums);

    /// <summary>What was done, with what, to what.</summary>
    public string Record => At(ResultsFiles.Record);

    /// <summary>Opens a results folder, does the work, and leaves the folder as the way the work ended demands.</summary>
    /// <typeparam name="T">What the work gives.</typeparam>
    /// <param name="results">The folder; made if missing.</param>
    /// <param name="survey">The survey's folder, which is never written to.</param>
    /// <param name="work">The run.</param>
    /// <remarks>
    /// Done: everything stays, nothing ends in <c>.tmp</c>. Stopped, or the disk is full, or our own fault: whole files stay, so that the
    /// same command takes up where it stopped. Refused (<see cref="SurveyException"/>): what this run made is taken back.
    /// </remarks>
    /// <exception cref="SurveyException">The place can't be used, or the work said so, or the disk did.</exception>
    public static T Use<T>(string results, string survey, Func<ResultsFolder, T> work)
    {
        ResultsFolder folder = Open(results, survey);
        bool takeBack = false;
        try
        {
            return work(folder);
        }
        catch (SurveyException refused)
        {
            takeBack = !DiskFaults.IsDiskFull(refused);
            throw;
        }
        catch (Exception fault) when (fault is not OperationCanceledException && DiskFaults.Explain(fault, results) is { } refused)
        {
            takeBack = !DiskFaults.IsDiskFull(fault);
            throw refused;
        }
        finally
        {
            folder.Close(takeBack);
        }
    }

    /// <summary>Refuses a folder that holds the results of another survey: <c>run.json</c> is there and names none of these recordings.</summary>
    /// <param name="inputs">The recordings of this run, by their hashes.</param>
    /// <exception cref="SurveyException">The results are another survey's.</exception>
    public void RefuseAnotherSurvey(IReadOnlyList<HashedInput> inputs)
    {
        if (RunRecord.TryRead(Record) is not { } earlier)
            return;
        var recordings = earlier.Inputs.Where(i => i.IsRecording).Select(i => i.Sha256).ToHashSet();
        if (recordings.Count > 0 && !inputs.Any(i => i.IsRecording && recordings.Contains(i.Sha256)))
            throw new SurveyException(System.IO.Path.Combine(Named, ResultsFiles.Record), null,
                $"the folder holds the results of another survey, “{earlier.SurveyName}”, with no recording in common with this one", "choose another folder with --out");
    }

    private static ResultsFolder Open(string results, string survey)
    {
        FolderPlaces.RefuseInside(results, survey);
        string path = System.IO.Path.GetFullPath(results);
        if (File.Exists(path))
            throw new SurveyException(results, null, "it is a file, and the results need a folder", "choose another name with --out");
        List<string> made = [];
        try
        {
            made = FolderPlaces.Make(path);
            RunLock runLock = RunLock.Take(path, results);
            ResultsFiles.DeleteUnfinished(path, runLock.Path);
            return new ResultsFolder(results, runLock, ResultsFiles.Present(path), made);
        }
        catch (Exception fault) when (fault is SurveyException or IOException or UnauthorizedAccessException)
        {
            FolderPlaces.RemoveEmpty(made);
            if (fault is not SurveyException && WriteFailure.Explain(fault) is var (wrong, mend))
                throw new SurveyException(results, null, wrong, mend, fault);
            throw;
        }
    }

    // Tidies as far as the disk lets it: what ended the run matters more than what tidying up met.
    private void Close(bool takeBack)
    {
        try
        {
            if (takeBack)
                TakeBack();
            ResultsFiles.DeleteUnfinished(Path, _lock.Path);
            _lock.Dispose();
            if (takeBack)
                FolderPlaces.RemoveEmpty(_madeFolders);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            _lock.Dispose();
        }
    }

    private void TakeBack()
    {
        foreach (string file in ResultsFiles.Present(Path).Where(f => !_before.Contains(f)))
            File.Delete(file);
        ResultsFiles.RemoveEmptyFolders(Path);
        if (_recordBefore is not null)
            WholeFile.WriteBytes(Record, _recordBefore);
    }

    private string At(string name) => System.IO.Path.Combine(Path, name);
}
