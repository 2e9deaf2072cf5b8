using System.Globalization;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Cooperatives;
using FruitWatch.Store;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Operating;

/// <summary>The command <c>cooperative</c>: lists, exports, takes in and deletes, on the store that the settings name.</summary>
internal static class CooperativeVerb
{
    private const string Terminal = "terminal";

    public static async Task ListAsync(TextWriter output)
    {
        await using var app = await OpenAsync();
        await ListAsync(app.Services, output);
    }

    public static async Task ListAsync(IServiceProvider services, TextWriter output)
    {
        await using var store = services.GetRequiredService<StoreFactory>().CreateDbContext();
        foreach (var row in await store.Cooperatives.AsNoTracking().OrderBy(row => row.Id)
            .Select(row => new
            {
                row.Id,
                row.Name,
                Sites = store.Sites.Count(site => site.CooperativeId == row.Id),
                People = store.People.Count(person => person.CooperativeId == row.Id && person.Active),
            }).ToListAsync())
            await output.WriteLineAsync(string.Create(
                CultureInfo.InvariantCulture, $"{row.Id,6}  {OneLine.Of(row.Name, 60),-60}  {row.Sites} sites, {row.People} active members"));
    }

    public static async Task ExportAsync(VerbOptions options, TextWriter output)
    {
        var id = Id(options);
        var to = options.Required("to");
        var form = options.Optional("form") ?? "json";
        if (form is not ("json" or "csv"))
            throw new VerbException($"--form: '{form}'; expected json or csv.");
        await using var app = await OpenAsync();
        await ExportAsync(app.Services, id, to, form, output);
    }

    public static async Task ExportAsync(IServiceProvider services, long id, string to, string form, TextWriter output)
    {
        await FindAsync(services, id);
        var export = await services.GetRequiredService<CooperativeExport>().MakeAsync(id, Terminal, null, form, default);
        await using var content = export.Content;
        try
        {
            // Names and addresses of people are in it: for its owner's eyes.
            await using var file = OperatingSystem.IsWindows()
                ? new FileStream(to, FileMode.CreateNew)
                : new FileStream(to, new FileStreamOptions
                { Mode = FileMode.CreateNew, Access = FileAccess.Write, UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite });
            await content.CopyToAsync(file);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new VerbException($"{to} cannot be written: {problem.Message} A file that is there is not overwritten.");
        }

        await output.WriteLineAsync($"{to}: {form}. It holds names and addresses of people; keep it safe.");
    }

    public static async Task ImportAsync(string file, VerbOptions options, TextWriter output)
    {
        await using var app = await OpenAsync();
        await ImportAsync(app.Services, file, options.Optional("name"), output);
    }

    public static async Task ImportAsync(IServiceProvider services, string file, string? name, TextWriter output)
    {
        if (name is not null && (string.IsNullOrWhiteSpace(name) || name.Length > CooperativeApi.LongestName || name.Any(char.IsControl)))
            throw new VerbException($"--name: expected 1 to {CooperativeApi.LongestName} characters, on one line.");
        try
        {
            await using var content = File.OpenRead(file);
            var imported = await services.GetRequiredService<CooperativeImport>().RunAsync(content, name?.Trim(), default);
            await output.WriteLineAsync(FormattableString.Invariant($"{OneLine.Of(imported.Name, 120)} is cooperative {imported.CooperativeId} here."));
            foreach (var (table, rows) in imported.Rows)
                await output.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"  {table,-12} {rows,8}"));
            await output.WriteLineAsync("Its people are not members here before they are invited; webhooks are off and need new secrets; feeds with a key need it again.");
        }
        catch (ImportException wrong)
        {
            throw new VerbException($"{file} was not taken in; nothing was changed.\n{wrong.Message}");
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new VerbException($"{file} cannot be read: {problem.Message}");
        }
    }

    public static async Task DeleteAsync(VerbOptions options, TextWriter output)
    {
        var id = Id(options);
        var confirmed = options.Required("confirm");
        await using var app = await OpenAsync();
        await DeleteAsync(app.Services, id, confirmed, output);
    }

    public static async Task DeleteAsync(IServiceProvider services, long id, string confirmed, TextWriter output)
    {
        if (await FindAsync(services, id) is var name && name.Trim() != confirmed.Trim())
            throw new VerbException($"--confirm: cooperative {id} is called '{OneLine.Of(name)}'. Nothing was deleted.");
        await services.GetRequiredService<CooperativeRemoval>().RemoveAsync(id, Terminal, default);
        await output.WriteLineAsync(FormattableString.Invariant($"Cooperative {id} is deleted. Backups, and copies made before upgrades, hold it until they are thrown away."));
    }

    private static async Task<WebApplication> OpenAsync()
    {
        var app = ServiceHost.Build([], builder => builder.Logging.SetMinimumLevel(LogLevel.Warning));
        await StoreMigration.PrepareAsync(app.Services.GetRequiredService<StoreFactory>(), app.Services.GetRequiredService<IClock>(), app.Logger);
        return app;
    }

    private static async Task<string> FindAsync(IServiceProvider services, long id)
    {
        await using var store = services.GetRequiredService<StoreFactory>().CreateDbContext();
        return await store.Cooperatives.Where(row => row.Id == id).Select(row => row.Name).SingleOrDefaultAsync()
            ?? throw new VerbException($"--id: there is no cooperative {id}. See 'cooperative list'.");
    }

    private static long Id(VerbOptions options) =>
        long.TryParse(options.Required("id"), NumberStyles.None, CultureInfo.InvariantCulture, out var id)
            ? id
            : throw new VerbException($"--id: '{options.Required("id")}'; expected the key of a cooperative. See 'cooperative list'.");
}
