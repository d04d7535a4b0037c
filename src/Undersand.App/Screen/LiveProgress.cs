using Spectre.Console;
using Spectre.Console.Rendering;
using Undersand.Runs;

namespace Undersand.App.Screen;

/// <summary>Progress as a bar a step, with rate and time left.</summary>
internal sealed class LiveProgress : IProgressSink
{
    private readonly Lock _gate = new();
    private readonly ProgressContext _context;
    private readonly IAnsiConsole _console;
    private readonly Func<double> _clock;
    private readonly Dictionary<int, RunProgress> _steps;
    private ProgressTask? _task;

    private LiveProgress(ProgressContext context, IAnsiConsole console, Func<double> clock, Dictionary<int, RunProgress> steps)
    {
        _context = context;
        _console = console;
        _clock = clock;
        _steps = steps;
    }

    /// <summary>Does some work and shows how far it has come.</summary>
    public static T Show<T>(IAnsiConsole console, Func<double> clock, Func<IProgressSink, T> work)
    {
        var steps = new Dictionary<int, RunProgress>();
        var pace = new PaceColumn(steps, clock);
        return console.Progress()
            .Columns(new TaskDescriptionColumn { Alignment = Justify.Left }, new ProgressBarColumn { Width = 24 }, new PercentageColumn(), pace)
            .Start(context =>
            {
                var progress = new LiveProgress(context, console, clock, steps);
                T result = work(progress);
                progress.EndStep();
                return result;
            });
    }

    public void Begin(string step, double total, string unit)
    {
        lock (_gate)
        {
            EndStep();
            _task = _context.AddTask(Markup.Escape(step), autoStart: true, maxValue: total > 0 ? total : 1);
            _task.IsIndeterminate = total <= 0;
            lock (_steps)
                _steps[_task.Id] = new RunProgress(step, total, unit, _clock());
        }
    }

    public void Advance(double amount = 1) => Tell(amount, step => step.Advance(amount, _clock()));

    public void TakeOver(double amount = 1) => Tell(amount, step => step.TakeOver(amount, _clock()));

    public void Message(string text) => _console.WriteLine(text);

    private void Tell(double amount, Action<RunProgress> tell)
    {
        lock (_gate)
        {
            if (_task is null)
                return;
            lock (_steps)
                tell(_steps[_task.Id]);
            if (!_task.IsIndeterminate)
                _task.Increment(amount);
        }
    }

    private void EndStep()
    {
        if (_task is null)
            return;
        _task.IsIndeterminate = false;
        _task.Value = _task.MaxValue;
        _task.StopTask();
        _task = null;
    }

    /// <summary>Rate and time left while a step is under way, then how long it took.</summary>
    private sealed class PaceColumn(Dictionary<int, RunProgress> steps, Func<double> clock) : ProgressColumn
    {
        protected override bool NoWrap => true;

        public override IRenderable Render(RenderOptions options, ProgressTask task, TimeSpan deltaTime)
        {
            lock (steps)
            {
                if (!steps.TryGetValue(task.Id, out RunProgress? step))
                    return Text.Empty;
                if (task.IsFinished)
                    return new Text(RunProgress.Duration(task.ElapsedTime?.TotalSeconds ?? clock() - step.Begun));
                return new Text(string.Join(", ", new[] { ProgressWords.Rate(step), ProgressWords.Left(step) }.Where(s => s.Length > 0)));
            }
        }
    }
}
