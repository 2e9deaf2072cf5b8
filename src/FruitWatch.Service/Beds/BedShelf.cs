using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using BedRow = FruitWatch.Store.Entities.Bed;

namespace FruitWatch.Service.Beds;

/// <summary>Makes and changes beds, for programs and for people alike.</summary>
internal sealed class BedShelf(FruitWatchStore store, BedCatalogue catalogue, Visitor visitor)
{
    /// <summary>A bed with its layers, to be changed; null where there is none.</summary>
    public Task<BedRow?> FindAsync(long id, CancellationToken stop) =>
        store.Beds.Include(bed => bed.Layers.OrderBy(layer => layer.Id)).SingleOrDefaultAsync(bed => bed.Id == id, stop);

    /// <summary>What only shows beside what is kept, and in the catalogue; what is wrong is noted in the fields.</summary>
    public async Task CheckAsync(BedChange change, BedRow? row, IFields fields, CancellationToken stop)
    {
        if (row is not null && change.SiteId != row.SiteId)
            fields.Refuse("siteId", words => words.BedStays);
        else if (!await store.Sites.AnyAsync(site => site.Id == change.SiteId, stop))
            fields.Refuse("siteId", words => words.BedNoSuchSite);
        if (row is not null
            && await store.LogEntries.AnyAsync(entry => entry.BedId == row.Id && entry.UndoneAt == null && entry.On < change.InoculatedOn, stop))
            fields.Refuse("inoculatedOn", words => words.BedLoggedBefore);
        var tried = new BedRow { Name = "", SpeciesKey = "" };
        change.Put(tried);
        try
        {
            BedReading.ToModel(tried, catalogue);
        }
        catch (BedException wrong)
        {
            fields.Refuse(wrong.FieldName, _ => wrong.Message);
        }
    }

    public async Task<BedRow> AddAsync(BedChange change, CancellationToken stop)
    {
        var row = new BedRow { Name = "", SpeciesKey = "" };
        change.Put(row);
        await using var transaction = await store.JoinAsync(stop);
        store.Beds.Add(row);
        await store.SaveChangesAsync(stop);
        if (visitor.Person is { Role: Role.Grower } grower)
        {
            // Who makes a bed answers for it, and is told about its site from then on.
            store.BedGrowers.Add(new BedGrower { BedId = row.Id, PersonId = grower.Id });
            if (!grower.Sites.Exists(told => told.SiteId == row.SiteId))
                store.PersonSites.Add(new PersonSite { PersonId = grower.Id, SiteId = row.SiteId });
            await store.SaveChangesAsync(stop);
        }

        await transaction.CommitAsync(stop);
        return row;
    }

    public Task ChangeAsync(BedRow row, BedChange change, CancellationToken stop)
    {
        change.Put(row);
        // A new filling alone is a change of the bed too, and has to raise its version.
        store.Entry(row).State = EntityState.Modified;
        return store.SaveChangesAsync(stop);
    }
}
