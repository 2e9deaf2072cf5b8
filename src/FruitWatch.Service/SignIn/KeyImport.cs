using System.Xml;
using System.Xml.Linq;
using FruitWatch.Store;
using Microsoft.AspNetCore.DataProtection.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.SignIn;

/// <summary>
/// Takes the service's keys into the store from the folder in which earlier versions kept them, so that what was sealed with them still
/// opens. The files are left where they are; taken once.
/// </summary>
internal static class KeyImport
{
    /// <returns>How many were new.</returns>
    public static async Task<int> RunAsync(FruitWatchStore store, string folder, ILogger log, CancellationToken stop = default)
    {
        if (!Directory.Exists(folder))
            return 0;
        var known = await store.DataProtectionKeys.Select(row => row.FriendlyName).ToListAsync(stop);
        var taken = 0;
        foreach (var file in Directory.EnumerateFiles(folder, "*.xml").Order(StringComparer.Ordinal))
        {
            var name = Path.GetFileNameWithoutExtension(file);
            if (known.Contains(name))
                continue;
            try
            {
                store.DataProtectionKeys.Add(new DataProtectionKey { FriendlyName = name, Xml = XElement.Load(file).ToString(SaveOptions.DisableFormatting) });
                taken++;
            }
            catch (Exception unreadable) when (unreadable is XmlException or IOException or UnauthorizedAccessException)
            {
                log.LogWarning("The key file {File} cannot be read and was left out: {Problem}", file, unreadable.Message);
            }
        }

        await store.SaveChangesAsync(stop);
        if (taken > 0)
            log.LogInformation("{Count} keys were taken from {Folder} into the store; the folder is used no longer", taken, folder);
        return taken;
    }
}
