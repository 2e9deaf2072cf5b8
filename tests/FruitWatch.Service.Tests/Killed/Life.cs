using System.Diagnostics;
using System.Globalization;
using System.Text;
using FruitWatch.Service.Operating;

namespace FruitWatch.Service.Tests.Killed;

/// <summary>The real program as a process of its own, from its start until it is killed or told to stop.</summary>
internal sealed class Life : IDisposable
{
    private readonly Process process;
    private readonly StringBuilder output = new();
    private readonly Lock door = new();
    private readonly Lock dying = new();
    private bool disposed;

    private Life(Process process) => this.process = process;

    public bool HasEnded => process.HasExited;

    /// <summary>What it wrote so far, for the message of a test that fails.</summary>
    public string Output
    {
        get
        {
            lock (door)
                return output.ToString();
        }
    }

    /// <summary>Its doors are open: it has said where the first account is made.</summary>
    public bool IsReady => Output.Contains("https://beds.alder.invalid/setup/", StringComparison.Ordinal);

    /// <param name="store">What it works on.</param>
    /// <param name="relayPort">The relay's, on this machine.</param>
    /// <param name="lease">What a life has claimed is free for another after this.</param>
    public static Life Begin(KilledStore store, int relayPort, TimeSpan? lease = null)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath is { } own && Path.GetFileNameWithoutExtension(own) == "dotnet" ? own : "dotnet")
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            UseShellExecute = false,
        };
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, typeof(Verbs).Assembly.GetName().Name + ".dll"));
        start.ArgumentList.Add("serve");
        start.ArgumentList.Add("--urls");
        start.ArgumentList.Add("http://127.0.0.1:0");
        foreach (var (name, value) in store.Settings.Concat(
        [
            ("FruitWatch__BaseUrl", "https://beds.alder.invalid"),
            ("Mail__Host", "127.0.0.1"), ("Mail__Port", relayPort.ToString(CultureInfo.InvariantCulture)), ("Mail__Security", "none"), ("Mail__FromAddress", "beds@alder.invalid"),
            // Alone, what the last life had claimed is free as soon as this one has started.
            ("Mail__Lease", (lease ?? TimeSpan.FromSeconds(1)).ToString("c", CultureInfo.InvariantCulture)),
            // Two hundred kills need more mails than are usual in an hour.
            ("Mail__PerHour", "100000"),
            // The relay of the tests may hold a line for as long as a slow machine takes to start.
            ("Mail__Timeout", "00:01:30"),
            ("Logging__LogLevel__Default", "Warning"), ("DOTNET_TieredPGO", "0"), ("ASPNETCORE_ENVIRONMENT", "Production"),
        ]))
            start.Environment[name] = value;
        var life = new Life(new Process { StartInfo = start });
        life.process.OutputDataReceived += (_, line) => life.Note(line.Data);
        life.process.ErrorDataReceived += (_, line) => life.Note(line.Data);
        life.process.Start();
        life.process.BeginOutputReadLine();
        life.process.BeginErrorReadLine();
        return life;
    }

    /// <summary>kill -9: nothing is flushed, nothing is said.</summary>
    public void Kill()
    {
        lock (dying)
        {
            // A relay may still be telling of it.
            if (disposed)
                return;
            if (!process.HasExited)
                process.Kill();
            process.WaitForExit();
        }
    }

    /// <summary>Holds it where it is: it hears nothing more of what is sent to it. Only to be killed afterwards.</summary>
    public void Freeze() => Signal("STOP");

    /// <summary>SIGTERM, as a supervisor sends it.</summary>
    /// <returns>Its exit code.</returns>
    public async Task<int> TerminateAsync(TimeSpan within)
    {
        Signal("TERM");
        using var limit = new CancellationTokenSource(within);
        await process.WaitForExitAsync(limit.Token);
        return process.ExitCode;
    }

    public void Dispose()
    {
        Kill();
        lock (dying)
            disposed = true;
        process.Dispose();
    }

    private void Signal(string signal)
    {
        using var sender = Process.Start("kill", ["-" + signal, process.Id.ToString(CultureInfo.InvariantCulture)]);
        sender.WaitForExit();
        Assert.Equal(0, sender.ExitCode);
    }

    private void Note(string? line)
    {
        lock (door)
            output.AppendLine(line);
    }
}
